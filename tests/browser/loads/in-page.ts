import { mount, unmount } from 'svelte';
import type { Bar, Equipment } from '../../../src/core/loads/equipment.ts';
import { currentStage, type PlannedExercise } from '../../../src/core/plan/plan.ts';
import '../../../src/ui/common/tokens.css';
import { inventedPlan } from '../../helpers/plan-days.ts';
import Screens from './Screens.svelte';
import SeatQuestion from './SeatQuestion.svelte';
import { SAMPLES } from '../../helpers/sample-equipment.ts';

/** What the tests call in the page. */
export interface LoadsPage {
  show(kind: Equipment['kind']): Promise<void>;
  /** The question for the bar's seat before a hold by a plan that describes its bar, or does not. */
  showSeat(isDescribed: boolean): Promise<void>;
  /** Every equipment that the form handed on, newest last. */
  readonly changed: Equipment[];
}

declare global {
  interface Window {
    loadsPage: LoadsPage;
  }
}

/** A hold of the plan that stands ready. */
function plannedHold(equipment: Bar | null): PlannedExercise {
  const hold = currentStage(inventedPlan()).exercises.find(({ exercise }) => exercise === 'hold');
  if (hold?.exercise !== 'hold') throw new Error('The plan that stands ready has changed.');
  return { ...hold, equipment };
}

function takeTheme(): void {
  document.documentElement.dataset['theme'] = matchMedia('(prefers-color-scheme: dark)').matches
    ? 'dark'
    : 'light';
}

let shown: Record<string, unknown> | null = null;

window.loadsPage = {
  changed: [],
  async show(kind) {
    if (shown !== null) await unmount(shown);
    window.loadsPage.changed.length = 0;
    takeTheme();
    const others = Object.values(SAMPLES)
      .filter((other) => other.kind !== kind)
      .map((equipment) => ({ name: `the ${equipment.kind}`, equipment, variant: null, range: null }));
    const props = {
      sample: SAMPLES[kind],
      others,
      onchanged: (equipment: Equipment) => window.loadsPage.changed.push(equipment),
    };
    shown = mount(Screens, { target: document.body, props });
  },
  async showSeat(isDescribed) {
    if (shown !== null) await unmount(shown);
    takeTheme();
    const bar = SAMPLES.bar;
    const planned = plannedHold(isDescribed && bar.kind === 'bar' ? bar : null);
    shown = mount(SeatQuestion, { target: document.body, props: { planned } });
  },
};
