import { exchangeParts, type LoadedParts } from './adapters/exchange/exchange-parts.ts';
import type { OpenedStore } from './adapters/storage/open-session-store.ts';
import type { RecordOpener } from './core/session/record-opener.ts';
import type { LaterParts } from './state/later-parts.ts';
import type { liveSource } from './adapters/frames/live-source.ts';
import type { NewSession } from './state/received-session.ts';
import type { LiveParts } from './state/live-parts.ts';
import type { LiveSession } from './state/live-session.svelte.ts';
import type { Settings } from './state/settings.svelte.ts';

/** What is joined when the page opens, and everything later stands on. */
interface JoinedFirst {
  readonly opened: OpenedStore;
  readonly records: RecordOpener;
  readonly settings: Settings;
  readonly session: LiveSession;
  /** What the session stands on. */
  readonly parts: LiveParts;
  /** Makes another session, and a source of a stream: both are in the first script, and shared they would be larger. */
  readonly newSession: NewSession;
  readonly liveSource: typeof liveSource;
  /** A plan was put in force, or something came that may change what is asked today. */
  readonly onfollowed: () => void;
}

/**
 * Joins the adapters to what the screens after the first one stand on. Each part is made once for the whole visit, so that what is being
 * written, a search, or a restoring goes on when its screen is left; a report and a comparison are made for their screen.
 */
export function joinLater(first: JoinedFirst): LaterParts {
  const { opened, records, settings, onfollowed } = first;
  const { software, videos, announcer, nowSeconds, moment, newId } = first.parts;
  const surroundings = { announcer, nowSeconds, moment, newId };
  const { plans, reviews, store } = opened;

  /** Stores and the worker that seals and opens: for packages, and for the keys in a backup. */
  const exchangeWith = once((): Promise<LoadedParts> => {
    const begin = () => new Worker(new URL('./exchange-worker.ts', import.meta.url), { type: 'module' });
    return Promise.resolve(exchangeParts(opened, begin, surroundings.moment));
  });

  const keptVideos =
    videos === null
      ? null
      : async () => {
          const { KeptVideos } = await import('./state/kept-videos.svelte.ts');
          return new KeptVideos(await videos());
        };

  return {
    newerVersion: async (planId) => {
      const { waitingVersion } = await import('./state/waiting-version.ts');
      return waitingVersion(planId, { exchange: opened.exchange, plans });
    },
    board: once(async () => {
      const { PlanBoard } = await import('./state/plan-board.svelte.ts');
      const parts = { store: plans, records: store, outlines: records, reviews, exchange: opened.exchange };
      return new PlanBoard({ ...surroundings, ...parts, onfollowed });
    }),
    caseload: once(async () => {
      const { Caseload } = await import('./state/caseload.svelte.ts');
      return new Caseload({ ...surroundings, plans, reviews, records });
    }),
    review: once(async () => {
      const { Review } = await import('./state/review.svelte.ts');
      return new Review(records, plans, keptVideos);
    }),
    care: once(async () => {
      if (opened.care === null) throw new Error('Nothing lasts here, so there is nothing to care for.');
      const [{ StorageCare }, files, care, reviewStore, videoStore, exchange] = await Promise.all([
        import('./state/storage-care.svelte.ts'),
        import('./adapters/backup/backup-file.ts'),
        opened.care(),
        reviews(),
        opened.videos?.() ?? null,
        opened.exchange(),
      ]);
      const targets = { sessions: store, plans, reviews: reviewStore, videos: videoStore, exchange };
      const loadSealing = async () => (await exchangeWith()).sealing;
      const persist = () => navigator.storage?.persist?.().catch(() => null) ?? Promise.resolve(null);
      const parts = { care, targets, loadSealing, settings, files, persist, software };
      return new StorageCare({ ...surroundings, ...parts });
    }),
    exchange: once(async () => {
      const [{ ExchangeBoard }, parts] = await Promise.all([
        import('./state/exchange-board.svelte.ts'),
        exchangeWith(),
      ]);
      return new ExchangeBoard({ ...surroundings, ...parts, software, onchanged: onfollowed });
    }),
    desk: once(async () => {
      const [{ ReviewDesk }, kept] = await Promise.all([import('./state/review-desk.svelte.ts'), reviews()]);
      return new ReviewDesk({ ...surroundings, store: kept, plans, settings });
    }),
    consult: once(async () => {
      const [
        { Consult },
        { openRtcLink },
        { openFaceAndVoice },
        { openOwnPictures },
        { openReceived },
        { receivedSession },
        { newNonce },
        { meetingsAt },
        { tabTickets },
        { keptLeft },
        { packParcel, unpackParcel },
      ] = await Promise.all([
        import('./state/consult.svelte.ts'),
        import('./adapters/consult/rtc-link.ts'),
        import('./adapters/frames/face-and-voice.ts'),
        import('./adapters/frames/own-pictures.ts'),
        import('./adapters/frames/received-source.ts'),
        import('./state/received-session.ts'),
        import('./adapters/consult/nonce.ts'),
        import('./adapters/consult/meetings.ts'),
        import('./adapters/consult/tab-ticket.ts'),
        import('./adapters/consult/kept-left.ts'),
        import('./adapters/consult/pack-parcel.ts'),
      ]);
      const hasVoice = () => surroundings.announcer.voices().length > 0;
      const meetings = meetingsAt(new URL(import.meta.env.BASE_URL, location.href));
      const { openCamera } = first.parts.sources;
      const received = receivedSession(
        first.parts,
        (stream) => openReceived(stream, first.liveSource),
        first.newSession,
      );
      const devices = { openFaceAndVoice, openOwnPictures, openCamera, received };
      const link = {
        openLink: openRtcLink,
        ...devices,
        newNonce,
        meetings,
        tickets: tabTickets,
        left: keptLeft,
      };
      const packing = { pack: packParcel, unpack: unpackParcel };
      const loadStores = async () => (await exchangeWith()).stores;
      const kept = { packing, loadStores, plans };
      return new Consult({ ...surroundings, ...link, ...kept, settings, live: first.session, hasVoice });
    }),
    comparison: async () => {
      const { Comparison } = await import('./state/comparison.svelte.ts');
      return new Comparison({ records, plans, reviews });
    },
    report: async () => {
      const { SessionReport } = await import('./state/session-report.svelte.ts');
      return new SessionReport({ records, plans, reviews, moment: surroundings.moment });
    },
  };
}

/** Loads at the first call; after a failure (a script that did not come) the next call tries again. */
function once<Part>(load: () => Promise<Part>): () => Promise<Part> {
  let loading: Promise<Part> | null = null;
  return () =>
    (loading ??= load().catch((error: unknown) => {
      loading = null;
      throw error;
    }));
}
