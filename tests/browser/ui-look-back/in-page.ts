import { mount, unmount } from 'svelte';
import { MemoryPlanStore } from '../../../src/adapters/storage/memory-plan-store.ts';
import { MemoryReviewStore } from '../../../src/adapters/storage/memory-review-store.ts';
import { MemorySessionStore } from '../../../src/adapters/storage/memory-session-store.ts';
import type { ExerciseSettings } from '../../../src/core/exercises/exercise.ts';
import { recordsHere } from '../../../src/core/export/open-record.ts';
import type { ReviewDocument } from '../../../src/core/review/review-document.ts';
import type { SessionRecord } from '../../../src/core/session/session-record.ts';
import type { SessionStore } from '../../../src/core/session/session-store.ts';
import { AppNavigation } from '../../../src/state/app-navigation.svelte.ts';
import { Caseload } from '../../../src/state/caseload.svelte.ts';
import { ReviewDesk } from '../../../src/state/review-desk.svelte.ts';
import { Review } from '../../../src/state/review.svelte.ts';
import { Settings } from '../../../src/state/settings.svelte.ts';
import { Shelf } from '../../../src/state/shelf.svelte.ts';
import '../../../src/ui/common/tokens.css';
import Screens from './Screens.svelte';
import { bandCurlRecord, bodyCurlRecord, followedPlan, holdRecord } from './sample-records.ts';

/** What the tests call in the page. */
export interface LookBackPage {
  /** Shows the two screens over a fresh store that keeps for this visit, with the sample records in it or empty. */
  show(records: 'samples' | 'none'): Promise<void>;
  /** Begins with no reviews. */
  forgetReviews(): void;
  /** The reviews of a session that are kept. */
  reviews(sessionId: string): Promise<readonly ReviewDocument[]>;
  /** What was asked to be measured again: the file's name and the exercise. */
  readonly askedAgain: (readonly [string, ExerciseSettings])[];
}

declare global {
  interface Window {
    lookBackPage: LookBackPage;
  }
}

/** The moment at which everything is looked at. */
const NOW = '2026-03-09T10:00:00+01:00';

let shown: Record<string, unknown> | null = null;

async function filled(records: readonly SessionRecord[]): Promise<SessionStore> {
  const store = new MemorySessionStore();
  for (const record of records) await store.importRecord(record);
  return store;
}

/** The plan that the body-moving curl followed. */
async function filledPlans(): Promise<MemoryPlanStore> {
  const plans = new MemoryPlanStore();
  await plans.keepVersion(followedPlan());
  return plans;
}

/** Reviews outlive showing anew, as they outlive a visit in the app. */
let reviewStore = new MemoryReviewStore();

window.lookBackPage = {
  forgetReviews() {
    reviewStore = new MemoryReviewStore();
  },
  async reviews(sessionId) {
    const kept = await reviewStore.reviewsOf(sessionId);
    return kept.ok ? kept.value.items : [];
  },
  askedAgain: [],
  async show(records) {
    if (shown !== null) await unmount(shown);
    document.documentElement.dataset['theme'] = matchMedia('(prefers-color-scheme: dark)').matches
      ? 'dark'
      : 'light';
    const samples = records === 'none' ? [] : [holdRecord(), bodyCurlRecord(), bandCurlRecord()];
    const store = await filled(samples);
    const plans = await filledPlans();
    const caseload = new Caseload({
      plans,
      reviews: () => Promise.resolve(reviewStore),
      records: recordsHere(store),
      moment: () => NOW,
      nowSeconds: () => performance.now() / 1000,
    });
    const desk = new ReviewDesk({
      store: reviewStore,
      plans,
      settings: new Settings({ read: () => null, write: () => undefined }),
      moment: () => NOW,
      newId: () => crypto.randomUUID(),
    });
    const props = {
      loadDesk: () => Promise.resolve(desk),
      review: new Review(recordsHere(store), plans),
      loadCaseload: () => Promise.resolve(caseload),
      shelf: new Shelf(store),
      navigation: new AppNavigation(),
      measureAgain: ({ name }: File, exercise: ExerciseSettings): void => {
        window.lookBackPage.askedAgain.push([name, exercise]);
      },
    };
    shown = mount(Screens, { target: document.body, props });
  },
};
