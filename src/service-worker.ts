import { PrecacheController } from 'workbox-precaching/PrecacheController.js';
import { PrecacheRoute } from 'workbox-precaching/PrecacheRoute.js';
import { registerRoute } from 'workbox-routing/registerRoute.js';
import manifest from '../models/manifest.json' with { type: 'json' };
import type { BuildContents } from './adapters/offline/build-contents.ts';
import { ClipKeeper } from './adapters/offline/clip-keeper.ts';
import { ModelKeeper } from './adapters/offline/model-keeper.ts';
import { readWorkerMessage } from './adapters/offline/worker-message.ts';

declare const self: ServiceWorkerGlobalScope;
/** Written in by the build (scripts/vite/offline-worker.ts). */
declare const __BUILD__: BuildContents;

/**
 * Keeps the app on this machine, so that it starts without a network. The app is kept whole when this worker installs,
 * each file checked against its hash. A new worker waits until a page asks it to take over (state/app-update).
 */
const APP_PREFIX = 'app-';
const scope = self.registration.scope;
/** By a name of our own: the build writes its list wherever its own name stands. */
const build: BuildContents = __BUILD__;

const app = new PrecacheController({ cacheName: APP_PREFIX + build.version });
app.addToCacheList([...build.appFiles]);
const models = new ModelKeeper(`${scope}models/`, manifest.files);
const clips = new ClipKeeper(build.clipsVersion);

/**
 * One earlier build stays: a window that still runs it may yet load its later screens. Caches are listed in the order
 * in which they were made.
 */
async function dropOldBuilds(): Promise<void> {
  const builds = (await caches.keys()).filter((name) => name.startsWith(APP_PREFIX));
  const earlier = builds.filter((name) => name !== APP_PREFIX + build.version);
  await Promise.all(earlier.slice(0, -1).map((name) => caches.delete(name)));
}

self.addEventListener('install', (event) => event.waitUntil(app.install(event)));

self.addEventListener('activate', (event) =>
  event.waitUntil(
    Promise.all([
      app.activate(event),
      dropOldBuilds(),
      models.dropUnknown(),
      clips.dropOthers(),
      self.clients.claim(),
    ]),
  ),
);

self.addEventListener('message', (event) => {
  const message = readWorkerMessage(event.data);
  if (message?.kind === 'take-over') event.waitUntil(self.skipWaiting());
  if (message?.kind === 'keep-models') event.waitUntil(models.keep(message.urls));
});

registerRoute(new PrecacheRoute(app, { cleanURLs: false }));

registerRoute(
  ({ request }) => models.concerns(request),
  async ({ request, event }) => {
    const { response, kept } = await models.answer(request);
    event.waitUntil(kept);
    return response;
  },
);

registerRoute(
  ({ url }) => url.href.startsWith(`${scope}demo-clips/`) && url.pathname.endsWith('.mp4'),
  async ({ request, event }) => {
    const { response, kept } = await clips.answer(request);
    event.waitUntil(kept);
    return response;
  },
);

// Scripts of an earlier build, for a window that still runs it.
registerRoute(
  ({ url }) => url.href.startsWith(`${scope}assets/`),
  async ({ request }) => (await caches.match(request)) ?? fetch(request),
);
