import { mount } from 'svelte';
import { version } from '../package.json';
import App from './App.svelte';
import { momentOf } from './adapters/clock/moment.ts';
import { demoClipList } from './adapters/demo/demo-clip-list.ts';
import { openCamera } from './adapters/frames/camera-source.ts';
import { listCameras } from './adapters/frames/list-cameras.ts';
import { openSharedWindow } from './adapters/frames/shared-window-source.ts';
import { BrowserAppVersions, NO_APP_VERSIONS } from './adapters/offline/app-versions.ts';
import { watchPageHealth } from './adapters/page/page-health.ts';
import { JudgingWorker } from './adapters/judging/judging-worker.ts';
import { LocalPreferences } from './adapters/preferences/local-preferences.ts';
import { figureSurfaces } from './adapters/screen/figure-surface.ts';
import { screenKeeper } from './adapters/screen/keep-awake.ts';
import { BrowserAnnouncer } from './adapters/sound/browser-announcer.ts';
import type { LoadedParts } from './adapters/exchange/exchange-parts.ts';
import { openSessionStore } from './adapters/storage/open-session-store.ts';
import { EstimatorError, type EstimatorProblem } from './core/pose/estimator-problem.ts';
import type { VideoParts } from './core/session/video-recording.ts';
import type { SourceOpener } from './core/session/source-opener.ts';
import { AppNavigation } from './state/app-navigation.svelte.ts';
import { AppUpdate } from './state/app-update.svelte.ts';
import type { Caseload } from './state/caseload.svelte.ts';
import type { Consult } from './state/consult.svelte.ts';
import type { Comparison } from './state/comparison.svelte.ts';
import type { KeptVideos } from './state/kept-videos.svelte.ts';
import type { ExchangeBoard } from './state/exchange-board.svelte.ts';
import type { LiveParts } from './state/live-parts.ts';
import { LiveSession } from './state/live-session.svelte.ts';
import type { PlanBoard } from './state/plan-board.svelte.ts';
import type { ReviewDesk } from './state/review-desk.svelte.ts';
import type { Review } from './state/review.svelte.ts';
import type { SessionReport } from './state/session-report.svelte.ts';
import { Settings } from './state/settings.svelte.ts';
import { Shelf } from './state/shelf.svelte.ts';
import type { StorageCare } from './state/storage-care.svelte.ts';
import { Training } from './state/training.svelte.ts';
import './ui/common/tokens.css';

/** Joins the adapters to state and screens. The pose network and the clip reader load when they are first needed. */
const base = import.meta.env.BASE_URL;
const modelBase = `${base}models/`;
const clips = () => import('./adapters/frames/clip-source.ts');

const spawnPoseWorker = (): Worker =>
  new Worker(new URL('./pose-worker.ts', import.meta.url), { type: 'module' });

/** Problems that no other runtime gets round. */
const UNAVOIDABLE: readonly EstimatorProblem[] = ['model-missing', 'model-damaged', 'no-simd'];

const sources: SourceOpener = {
  cameras: listCameras,
  demoClips: () => demoClipList(`${base}demo-clips/`),
  openCamera,
  openSharedWindow,
  openClip: async (file) => (await clips()).openClip(file, { kind: 'clip', label: file.name }),
  openDemo: async ({ name }) =>
    (await clips()).openClip(`${base}demo-clips/${name}.mp4`, { kind: 'demo', label: name }),
};

// Development takes everything from vite, which a service worker would hide.
const versions = import.meta.env.PROD
  ? new BrowserAppVersions({
      scriptUrl: `${base}service-worker.js`,
      modelUrls: async () =>
        (await import('./adapters/estimator/files-in-advance.ts')).urlsInAdvance(modelBase),
    })
  : NO_APP_VERSIONS;

const judging = new JudgingWorker(
  () => new Worker(new URL('./judge-worker.ts', import.meta.url), { type: 'module' }),
);

/** Landmarks by workers; by the library's own runtime on the page where no worker can be had. */
const loadService: LiveParts['loadService'] = async (model, onProgress) => {
  try {
    const { openPoseWorkerService, workersForClips } =
      await import('./adapters/pose-worker/pose-worker-service.ts');
    const workers = workersForClips();
    const parts = { spawn: spawnPoseWorker, modelBase, backend: 'any', workers } as const;
    return await openPoseWorkerService(parts, model, onProgress);
  } catch (error) {
    // What the library's runtime would lack as well is told; anything else may be the worker's own.
    if (!(error instanceof EstimatorError) || UNAVOIDABLE.includes(error.problem)) throw error;
    // eslint-disable-next-line no-console -- nobody else says why; people see that the library computes
    console.warn('Pictures are measured on the page, by the library:', error.message);
    const [{ createBlazePoseEstimator }, { pagePoseService }] = await Promise.all([
      import('./adapters/estimator/blaze-pose-estimator.ts'),
      import('./core/pose/page-pose-service.ts'),
    ]);
    const createEstimator = () => createBlazePoseEstimator({ modelBase });
    const nowMs = () => performance.now();
    return pagePoseService({ offered: ['full'], createEstimator, nowMs }, model, onProgress);
  }
};

const opened = await openSessionStore(judging);
const { store, plans, reviews, videos: openVideos, care: openCare } = opened;
const records = judging.recordsOf(store);
/** Videos of sets: what records, keeps and plays them loads when it is asked for. */
const videos =
  openVideos === null
    ? null
    : async (): Promise<VideoParts> => {
        const [videoStore, { recordStream }] = await Promise.all([
          openVideos(),
          import('./adapters/video/record-stream.ts'),
        ]);
        const makeSeekable = async (video: Blob): Promise<Blob> =>
          (await import('./adapters/video/seekable-video.ts')).makeSeekable(video);
        return { store: videoStore, record: recordStream, makeSeekable };
      };
// What cannot be swept now is swept when the next visit begins.
opened.sweep().catch(() => undefined);
const settings = new Settings(new LocalPreferences());
const surroundings = {
  announcer: new BrowserAnnouncer(() => {
    const { volumePercent, voiceId, voiceLanguage } = settings.now;
    return { volume: volumePercent / 100, voiceId, voiceLanguage };
  }),
  nowSeconds: () => performance.now() / 1000,
  moment: () => momentOf(new Date()),
  newId: () => crypto.randomUUID(),
};
const software = { name: 'Forearmed', version };
const session = new LiveSession(
  {
    ...surroundings,
    loadService,
    sources,
    store,
    judge: judging,
    software,
    health: watchPageHealth(),
    openFigureSurface: figureSurfaces(
      () => new Worker(new URL('./figure-worker.ts', import.meta.url), { type: 'module' }),
    ),
    keepAwake: screenKeeper(),
    videos,
  },
  settings,
);

const training = new Training({ ...surroundings, plans, sessions: store, records, live: session, settings });

/** One board for the whole visit: what is being written must not be lost between screens. */
let board: PlanBoard | null = null;
const onfollowed = (): void => void training.look();
const loadBoard = async (): Promise<PlanBoard> => {
  const { PlanBoard } = await import('./state/plan-board.svelte.ts');
  return (board ??= new PlanBoard({
    ...surroundings,
    store: plans,
    records: store,
    outlines: records,
    reviews,
    exchange: opened.exchange,
    onfollowed,
  }));
};

/** One list for the whole visit: a search and a picked session stay while one looks at what they led to. */
let caseload: Caseload | null = null;
const loadCaseload = async (): Promise<Caseload> => {
  const { Caseload } = await import('./state/caseload.svelte.ts');
  return (caseload ??= new Caseload({ ...surroundings, plans, reviews, records }));
};

const loadVideos =
  videos === null
    ? null
    : async (): Promise<KeptVideos> => {
        const [{ KeptVideos }, parts] = await Promise.all([
          import('./state/kept-videos.svelte.ts'),
          videos(),
        ]);
        return new KeptVideos(parts);
      };

/** One for the whole visit: coming back to a session finds it as it was left. */
let review: Review | null = null;
const loadReview = async (): Promise<Review> => {
  const { Review } = await import('./state/review.svelte.ts');
  return (review ??= new Review(records, plans, loadVideos));
};

/** One for the whole visit: restoring goes on when its screen is left. */
let care: Promise<StorageCare> | null = null;
const careOf = async (openStoreCare: NonNullable<typeof openCare>): Promise<StorageCare> => {
  const [{ StorageCare }, files, storeCare, reviewStore, videoStore, exchangeStore] = await Promise.all([
    import('./state/storage-care.svelte.ts'),
    import('./adapters/backup/backup-file.ts'),
    openStoreCare(),
    reviews(),
    openVideos?.() ?? null,
    opened.exchange(),
  ]);
  const targets = {
    sessions: store,
    plans,
    reviews: reviewStore,
    videos: videoStore,
    exchange: exchangeStore,
  };
  const loadSealing = async () => (await loadExchangeParts()).sealing;
  const persist = () => navigator.storage?.persist?.().catch(() => null) ?? Promise.resolve(null);
  const parts = { care: storeCare, targets, loadSealing, settings, files, persist, software };
  return new StorageCare({ ...surroundings, ...parts });
};
const loadCare = openCare === null ? null : () => (care ??= careOf(openCare));

/** Stores and the worker that seals and opens: for packages, and for the keys in a backup. */
let exchangeWith: Promise<LoadedParts> | null = null;
const loadExchangeParts = (): Promise<LoadedParts> =>
  (exchangeWith ??= import('./adapters/exchange/exchange-parts.ts').then(({ exchangeParts }) => {
    const begin = () => new Worker(new URL('./exchange-worker.ts', import.meta.url), { type: 'module' });
    return exchangeParts(opened, begin, surroundings.moment);
  }));

/** Sending and taking in, for the whole visit: what came and what was erased stay to be undone. */
let exchange: Promise<ExchangeBoard> | null = null;
const exchangeBoard = async (): Promise<ExchangeBoard> => {
  const [{ ExchangeBoard }, parts] = await Promise.all([
    import('./state/exchange-board.svelte.ts'),
    loadExchangeParts(),
  ]);
  return new ExchangeBoard({ ...surroundings, ...parts, software, onchanged: onfollowed });
};
const loadExchange = (): Promise<ExchangeBoard> => (exchange ??= exchangeBoard());

const loadComparison = async (): Promise<Comparison> => {
  const { Comparison } = await import('./state/comparison.svelte.ts');
  return new Comparison({ records, plans, reviews });
};

/** One desk for the whole visit: whoever reviews one session goes on with the next. */
let desk: ReviewDesk | null = null;
const loadDesk = async (): Promise<ReviewDesk> => {
  const [{ ReviewDesk }, kept] = await Promise.all([import('./state/review-desk.svelte.ts'), reviews()]);
  return (desk ??= new ReviewDesk({ ...surroundings, store: kept, plans, settings }));
};

const loadReport = async (): Promise<SessionReport> => {
  const { SessionReport } = await import('./state/session-report.svelte.ts');
  return new SessionReport({ records, plans, reviews, moment: surroundings.moment });
};

/** One for the whole visit: a consult goes on while one looks at another screen. */
let consult: Consult | null = null;
const loadConsult = async (): Promise<Consult> => {
  const [{ Consult }, { openRtcLink }, { openFaceAndVoice }, { newNonce }] = await Promise.all([
    import('./state/consult.svelte.ts'),
    import('./adapters/consult/rtc-link.ts'),
    import('./adapters/frames/face-and-voice.ts'),
    import('./adapters/consult/nonce.ts'),
  ]);
  const hasVoice = () => surroundings.announcer.voices().length > 0;
  const link = { openLink: openRtcLink, openFaceAndVoice, newNonce };
  const parts = { ...surroundings, ...link, settings, live: session, hasVoice };
  return (consult ??= new Consult(parts));
};

const target = document.getElementById('app');
if (target === null) throw new Error('index.html lacks the element "app".');
mount(App, {
  target,
  props: {
    navigation: new AppNavigation(),
    settings,
    update: new AppUpdate(versions),
    session,
    loadReview,
    shelf: new Shelf(store, loadCare),
    loadBoard,
    loadCaseload,
    loadExchange,
    loadComparison,
    loadDesk,
    loadReport,
    loadConsult,
    training,
  },
});
