import { mount } from 'svelte';
import { version } from '../package.json';
import App from './App.svelte';
import { momentOf } from './adapters/clock/moment.ts';
import { demoClipList } from './adapters/demo/demo-clip-list.ts';
import { openCamera } from './adapters/frames/camera-source.ts';
import { listCameras } from './adapters/frames/list-cameras.ts';
import { liveSource } from './adapters/frames/live-source.ts';
import { openSharedWindow } from './adapters/frames/shared-window-source.ts';
import { BrowserAppVersions, NO_APP_VERSIONS } from './adapters/offline/app-versions.ts';
import { watchPageHealth } from './adapters/page/page-health.ts';
import { JudgingWorker } from './adapters/judging/judging-worker.ts';
import { LocalPreferences } from './adapters/preferences/local-preferences.ts';
import { figureSurfaces } from './adapters/screen/figure-surface.ts';
import { screenKeeper } from './adapters/screen/keep-awake.ts';
import { BrowserAnnouncer } from './adapters/sound/browser-announcer.ts';
import { openSessionStore } from './adapters/storage/open-session-store.ts';
import type { VideoParts } from './core/session/video-recording.ts';
import type { SourceOpener } from './core/session/source-opener.ts';
import { AppNavigation } from './state/app-navigation.svelte.ts';
import { AppUpdate } from './state/app-update.svelte.ts';
import type { NewSession } from './state/received-session.ts';
import type { LaterParts } from './state/later-parts.ts';
import type { LiveParts } from './state/live-parts.ts';
import { LiveSession } from './state/live-session.svelte.ts';
import { Settings } from './state/settings.svelte.ts';
import { Shelf } from './state/shelf.svelte.ts';
import { Training } from './state/training.svelte.ts';
import './ui/common/tokens.css';

/** Joins the adapters to state and screens. The pose network and the clip reader load when they are first needed. */
const base = import.meta.env.BASE_URL;
const modelBase = `${base}models/`;
const clips = () => import('./adapters/frames/clip-source.ts');

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

const loadService: LiveParts['loadService'] = async (model, onProgress) =>
  (await import('./open-pose.ts')).openPose(modelBase, model, onProgress);

const opened = await openSessionStore(judging);
const { store, plans, videos: openVideos } = opened;
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
const parts: LiveParts = {
  ...surroundings,
  loadService,
  sources,
  store,
  judge: judging,
  software: { name: 'Forearmed', version },
  health: watchPageHealth(),
  openFigureSurface: figureSurfaces(
    () => new Worker(new URL('./figure-worker.ts', import.meta.url), { type: 'module' }),
  ),
  keepAwake: screenKeeper(),
  videos,
};
const session = new LiveSession(parts, settings);
const newSession: NewSession = (given, chosen) => new LiveSession(given, new Settings(chosen));

const training = new Training({ ...surroundings, plans, sessions: store, records, live: session, settings });

const onfollowed = (): void => void training.look();
let joined: Promise<LaterParts> | null = null;
const loadLater = (): Promise<LaterParts> =>
  (joined ??= import('./join-later.ts').then(({ joinLater }) =>
    joinLater({ opened, records, settings, session, parts, newSession, liveSource, onfollowed }),
  ));
const loadCare = opened.care === null ? null : async () => (await loadLater()).care();

const target = document.getElementById('app');
if (target === null) throw new Error('index.html lacks the element "app".');
mount(App, {
  target,
  props: {
    navigation: new AppNavigation(),
    settings,
    update: new AppUpdate(versions),
    session,
    shelf: new Shelf(store, loadCare),
    training,
    loadLater,
  },
});
