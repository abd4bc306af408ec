import type { Eraser } from '../../core/exchange/eraser.ts';
import type { ExchangeStore } from '../../core/exchange/exchange-store.ts';
import type { PackageFolder } from '../../core/exchange/package-folder.ts';
import type { Sealing } from '../../core/exchange/sealing.ts';
import type { Stores } from '../../core/exchange/take-item.ts';
import type { PlanStore } from '../../core/plan/plan-store.ts';
import type { ReviewStore } from '../../core/review/review-store.ts';
import type { SessionStore } from '../../core/session/session-store.ts';
import type { VideoStore } from '../../core/session/video-store.ts';
import { folderChooser } from './choose-folder.ts';
import { askWorker, sealingBy } from './worker-sealing.ts';

/** The stores that exchange works on; those that are seldom needed load with their first use. */
interface StoresToLoad {
  readonly store: SessionStore;
  readonly plans: PlanStore;
  readonly reviews: () => Promise<ReviewStore>;
  readonly videos: (() => Promise<VideoStore>) | null;
  readonly exchange: () => Promise<ExchangeStore>;
  readonly eraser: (() => Promise<Eraser>) | null;
}

/** What sending and taking in need of the platform and the stores. */
export interface LoadedParts {
  readonly stores: Stores;
  readonly eraser: Eraser | null;
  readonly sealing: Sealing;
  readonly chooseFolder: (() => Promise<PackageFolder | null>) | null;
}

/**
 * Puts together what sending and taking in need.
 * @param begin - begins the worker that seals and opens
 * @param moment - the moment of the wall clock, with offset
 */
export async function exchangeParts(
  { store, plans, reviews, videos, exchange, eraser }: StoresToLoad,
  begin: () => Worker,
  moment: () => string,
): Promise<LoadedParts> {
  const stores = {
    sessions: store,
    plans,
    reviews: await reviews(),
    videos: (await videos?.()) ?? null,
    exchange: await exchange(),
  };
  return {
    stores,
    eraser: (await eraser?.()) ?? null,
    sealing: sealingBy(askWorker(begin), moment),
    chooseFolder: folderChooser(),
  };
}
