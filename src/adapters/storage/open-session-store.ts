import type { StoreCare } from '../../core/backup/store-care.ts';
import type { Eraser } from '../../core/exchange/eraser.ts';
import type { ExchangeStore } from '../../core/exchange/exchange-store.ts';
import type { PlanStore } from '../../core/plan/plan-store.ts';
import type { ReviewStore } from '../../core/review/review-store.ts';
import type { SessionStore } from '../../core/session/session-store.ts';
import type { VideoStore } from '../../core/session/video-store.ts';
import type { StorageProblem } from '../../core/stored.ts';
import { judgeHere, type SetJudge } from '../../core/session/set-judge.ts';
import { IdbPlanStore } from './idb-plan-store.ts';
import { IdbSessionStore } from './idb-session-store.ts';
import { SessionDatabase } from './session-database.ts';
import { storageProblemOf } from './storage-failure.ts';

/** A database that has not opened by then will not: some browsers leave the request hanging. */
const LONGEST_OPENING_MS = 8000;

/** The stores of session records and of plans, and why they last for this visit only; null when they last. */
export interface OpenedStore {
  readonly store: SessionStore;
  readonly plans: PlanStore;
  /** The reviews of sessions; loads with its first use. */
  readonly reviews: () => Promise<ReviewStore>;
  /** Loads with its first use. Null where nothing lasts: a video is not kept in memory. */
  readonly videos: (() => Promise<VideoStore>) | null;
  /** Checks, repair and backup of all of it; loads with its first use. Null where nothing lasts. */
  readonly care: (() => Promise<StoreCare>) | null;
  /** Keys, and what came beside something else of its name; loads with its first use. */
  readonly exchange: () => Promise<ExchangeStore>;
  /** Erases everything of a person; loads with its first use. Null where nothing lasts. */
  readonly eraser: (() => Promise<Eraser>) | null;
  /** Does away with what deleted sessions left behind so that they could be brought back until their visit ended. */
  readonly sweep: () => Promise<void>;
  readonly problem: StorageProblem | null;
}

/**
 * Opens the stores on this machine; where that is impossible gives some that last for the visit, with the reason.
 * @param judge - who judges the sets that broke off
 */
export async function openSessionStore(judge: SetJudge = judgeHere): Promise<OpenedStore> {
  try {
    const db = new SessionDatabase();
    await Promise.race([db.open(), hanging()]);
    const videos = async (): Promise<VideoStore> =>
      new (await import('./idb-video-store.ts')).IdbVideoStore(db);
    // Nearly always there is nothing, and the first screen waits for no script that finds that out.
    const sweep = async (): Promise<void> => {
      const [noted, filmed] = await Promise.all([db.desk.get('deleted'), db.videos.count()]);
      if (noted !== undefined || filmed > 0) await (await import('./sweep-deleted.ts')).sweepDeleted(db);
    };
    const reviews = async (): Promise<ReviewStore> =>
      new (await import('./idb-review-store.ts')).IdbReviewStore(db);
    const [store, plans] = [new IdbSessionStore(db, judge), new IdbPlanStore(db)];
    const care = async (): Promise<StoreCare> =>
      new (await import('./idb-store-care.ts')).IdbStoreCare(db, store);
    const exchange = async (): Promise<ExchangeStore> =>
      new (await import('./idb-exchange-store.ts')).IdbExchangeStore(db);
    const eraser = async (): Promise<Eraser> => new (await import('./idb-eraser.ts')).IdbEraser(db);
    return { store, plans, reviews, videos, care, exchange, eraser, sweep, problem: null };
  } catch (error) {
    const problem = storageProblemOf(error);
    let kept: Promise<ReviewStore> | null = null;
    const reviews = (): Promise<ReviewStore> =>
      (kept ??= import('./memory-review-store.ts').then(({ MemoryReviewStore }) => new MemoryReviewStore()));
    const [{ MemorySessionStore }, { MemoryPlanStore }] = await Promise.all([
      import('./memory-session-store.ts'),
      import('./memory-plan-store.ts'),
    ]);
    const [store, plans] = [new MemorySessionStore(judge), new MemoryPlanStore()];
    let besides: Promise<ExchangeStore> | null = null;
    const exchange = (): Promise<ExchangeStore> =>
      (besides ??= import('./memory-exchange-store.ts').then((file) => new file.MemoryExchangeStore()));
    const none = { videos: null, care: null, eraser: null, sweep: () => Promise.resolve() };
    return { store, plans, reviews, exchange, ...none, problem };
  }
}

async function hanging(): Promise<never> {
  await new Promise((resolve) => setTimeout(resolve, LONGEST_OPENING_MS));
  throw new DOMException('The database did not open.', 'TimeoutError');
}
