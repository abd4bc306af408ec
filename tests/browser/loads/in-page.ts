import { mount, unmount } from 'svelte';
import type { Equipment } from '../../../src/core/loads/equipment.ts';
import '../../../src/ui/common/tokens.css';
import Screens from './Screens.svelte';
import { SAMPLES } from './sample-equipment.ts';

/** What the tests call in the page. */
export interface LoadsPage {
  show(kind: Equipment['kind']): Promise<void>;
  /** Every equipment that the form handed on, newest last. */
  readonly changed: Equipment[];
}

declare global {
  interface Window {
    loadsPage: LoadsPage;
  }
}

let shown: Record<string, unknown> | null = null;

window.loadsPage = {
  changed: [],
  async show(kind) {
    if (shown !== null) await unmount(shown);
    window.loadsPage.changed.length = 0;
    document.documentElement.dataset['theme'] = matchMedia('(prefers-color-scheme: dark)').matches
      ? 'dark'
      : 'light';
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
};
