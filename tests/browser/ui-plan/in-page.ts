import { mount, unmount } from 'svelte';
import { PackageDesk } from '../../../src/adapters/exchange/package-desk.ts';
import { sealingBy } from '../../../src/adapters/exchange/worker-sealing.ts';
import { MemoryExchangeStore } from '../../../src/adapters/storage/memory-exchange-store.ts';
import { MemoryPlanStore } from '../../../src/adapters/storage/memory-plan-store.ts';
import { MemorySessionStore } from '../../../src/adapters/storage/memory-session-store.ts';
import type { Plan } from '../../../src/core/plan/plan.ts';
import type { TrainingDay } from '../../../src/core/plan/training-day.ts';
import { AppNavigation } from '../../../src/state/app-navigation.svelte.ts';
import { recordsHere } from '../../../src/core/export/open-record.ts';
import { MemoryReviewStore } from '../../../src/adapters/storage/memory-review-store.ts';
import { KeptBesideList } from '../../../src/state/kept-beside.svelte.ts';
import { KeyRing } from '../../../src/state/key-ring.svelte.ts';
import { PlanBoard } from '../../../src/state/plan-board.svelte.ts';
import '../../../src/ui/common/tokens.css';
import { dayOn, inventedPlan, nextVersion } from '../../helpers/plan-days.ts';
import Screens from './Screens.svelte';

/** What is on the shelf when the screens are shown; every person and day is invented. */
export type PlanCase = 'none' | 'new-plan' | 'course' | 'red-flag' | 'damaged';

/** What the tests call in the page. */
export interface PlanPage {
  /** Shows the screens over a fresh store that keeps for this visit. */
  show(which: PlanCase): Promise<void>;
  /** The newest version of every kept plan. */
  plans(): Promise<readonly Plan[]>;
  days(planId: string): Promise<readonly TrainingDay[]>;
}

declare global {
  interface Window {
    planPage: PlanPage;
  }
}

/** The moment at which everything is looked at: the invented course ends a day before. */
const NOW = '2026-03-29T10:00:00+02:00';

let shown: Record<string, unknown> | null = null;
let store = new MemoryPlanStore();

async function fill(which: PlanCase): Promise<void> {
  store = new MemoryPlanStore();
  if (which === 'none') return;
  const first = inventedPlan();
  await store.keepVersion(first);
  await store.follow(first.id);
  if (which === 'new-plan') return;
  for (const day of ['03-02', '03-04', '03-06', '03-09', '03-11', '03-13'])
    await store.putDay(dayOn(first, day, { painBefore: 3, painAfter: 3, painAtEnd: 3, morning: 3 }));
  const second = nextVersion(first, { stageKey: 'body-curl' }, '2026-03-14T10:00:00+01:00', 'Six good days.');
  await store.keepVersion(second);
  for (const [date, painAfter, morning] of [
    ['03-16', 2, 2],
    ['03-18', 4, 5],
    ['03-20', 2, 2],
    ['03-25', 1, 1],
  ] as const)
    await store.putDay(
      dayOn(second, date, {
        painAfter,
        morning,
        shoulderDominant: date === '03-20' ? 3 : 0,
        measured: { elbowImpulseNms: { value: 540, least: 380, most: 760 } },
      }),
    );
  await store.putDay(dayOn(second, '03-27', { done: 0.5, morning: null }));
  if (which === 'red-flag') await store.putDay(dayOn(second, '03-28', { safetyYes: ['pop', 'bruising'] }));
  if (which === 'damaged') {
    // As a store would hold them after damage: the types say what was meant to be kept.
    await store.putBack({
      plans: [{ planId: second.id, version: 3, plan: { format: 'forearmed-plan' } }],
      days: [{ id: 'x', planId: second.id, day: null }],
      decisions: [],
      followedPlanId: null,
    });
  }
}

window.planPage = {
  async show(which) {
    if (shown !== null) await unmount(shown);
    document.documentElement.dataset['theme'] = matchMedia('(prefers-color-scheme: dark)').matches
      ? 'dark'
      : 'light';
    await fill(which);
    const exchange = new MemoryExchangeStore();
    const board = new PlanBoard({
      store,
      records: new MemorySessionStore(),
      outlines: recordsHere(new MemorySessionStore()),
      reviews: () => Promise.resolve(new MemoryReviewStore()),
      exchange: () => Promise.resolve(exchange),
      moment: () => NOW,
      newId: () => crypto.randomUUID(),
    });
    const desk = new PackageDesk();
    const sealing = sealingBy(
      (question, onShare) => desk.answer(question, onShare),
      () => NOW,
    );
    const keys = new KeyRing(exchange, sealing);
    const stores = {
      sessions: new MemorySessionStore(),
      plans: store,
      reviews: new MemoryReviewStore(),
      videos: null,
      exchange,
    };
    const beside = new KeptBesideList(
      stores,
      () => NOW,
      () => undefined,
    );
    const navigation = new AppNavigation();
    shown = mount(Screens, { target: document.body, props: { board, beside, keys, navigation } });
  },
  async plans() {
    const listed = await store.listPlans();
    return listed.ok ? listed.value.flatMap(({ newest }) => newest ?? []) : [];
  },
  async days(planId) {
    const listed = await store.listDays(planId);
    return listed.ok ? listed.value.items : [];
  },
};
