import type { WorkerMessage } from './worker-message.ts';

/** Held by every window in which a session is under way; whoever takes a new version needs it alone. */
const SESSION_LOCK = 'forearmed-session';

/** A window may stay open for days: how often a new version is looked for, milliseconds. */
const LOOK_EVERY_MS = 3_600_000;

/** How to keep the app on this machine. */
export interface AppVersionsOptions {
  readonly scriptUrl: string;
  /** Finds the model files to fetch in advance, the most needed first. */
  readonly modelUrls: () => Promise<readonly string[]>;
}

/**
 * Registers the service worker once the page has loaded, tells of new versions, and lets one take over. Does nothing
 * where the browser has no service workers, or refuses them: the app then runs from the network as before.
 */
export class BrowserAppVersions {
  readonly #registering: Promise<ServiceWorkerRegistration | null>;
  #endSession: (() => void) | null = null;

  constructor({ scriptUrl, modelUrls }: AppVersionsOptions) {
    this.#registering = register(scriptUrl);
    void this.#registering.then((registration) => keepModels(registration, modelUrls));
  }

  /** Calls `listener` whenever a new version is ready and waits. */
  onWaiting(listener: () => void): void {
    void this.#registering.then((registration) => {
      if (registration !== null) watch(registration, listener);
    });
  }

  /** Tells the other windows whether a session is under way in this one. */
  holdSession(isHeld: boolean): void {
    if (isHeld === (this.#endSession !== null) || !('locks' in navigator)) return;
    this.#endSession?.();
    this.#endSession = null;
    if (!isHeld) return;
    const ended = new Promise<void>((resolve) => {
      this.#endSession = resolve;
    });
    void navigator.locks.request(SESSION_LOCK, { mode: 'shared' }, () => ended);
  }

  /** Lets the waiting version take over and loads this page again, unless a session is under way in another window. */
  async takeOver(): Promise<'other-window' | 'none-waits'> {
    const waiting = (await this.#registering)?.waiting ?? null;
    if (waiting === null) return 'none-waits';
    if (!('locks' in navigator)) return reloadWith(waiting);
    return navigator.locks.request(SESSION_LOCK, { ifAvailable: true }, (lock) =>
      lock === null ? 'other-window' : reloadWith(waiting),
    );
  }
}

/** Without any effect: for development, where everything comes from vite. */
export const NO_APP_VERSIONS = {
  onWaiting: () => undefined,
  holdSession: () => undefined,
  takeOver: () => Promise.resolve('none-waits' as const),
};

async function register(scriptUrl: string): Promise<ServiceWorkerRegistration | null> {
  if (!('serviceWorker' in navigator)) return null;
  await whenQuiet();
  try {
    const registration = await navigator.serviceWorker.register(scriptUrl);
    setInterval(() => void registration.update().catch(() => undefined), LOOK_EVERY_MS);
    return registration;
  } catch {
    return null;
  }
}

/** After the page has loaded and the browser has nothing else to do. */
async function whenQuiet(): Promise<void> {
  if (document.readyState !== 'complete')
    await new Promise((resolve) => window.addEventListener('load', resolve, { once: true }));
  await new Promise<void>((resolve) => {
    // Safari has no requestIdleCallback.
    if ('requestIdleCallback' in window) requestIdleCallback(() => resolve(), { timeout: 5000 });
    else setTimeout(resolve, 2000);
  });
}

function watch(registration: ServiceWorkerRegistration, listener: () => void): void {
  const tellIfWaiting = (): void => {
    // The first worker of all waits for nobody.
    if (registration.waiting !== null && registration.active !== null) listener();
  };
  const follow = (): void => registration.installing?.addEventListener('statechange', tellIfWaiting);
  registration.addEventListener('updatefound', follow);
  // It may have been found by another window, or before anybody listened here.
  follow();
  tellIfWaiting();
}

/** Never settles: the page is on its way out. */
function reloadWith(waiting: ServiceWorker): Promise<never> {
  navigator.serviceWorker.addEventListener('controllerchange', () => location.reload(), { once: true });
  send(waiting, { kind: 'take-over' });
  return new Promise<never>(() => undefined);
}

async function keepModels(
  registration: ServiceWorkerRegistration | null,
  modelUrls: () => Promise<readonly string[]>,
): Promise<void> {
  if (registration === null || savesData()) return;
  const { active } = await navigator.serviceWorker.ready;
  await whenQuiet();
  const urls = await modelUrls();
  if (active !== null) send(active, { kind: 'keep-models', urls: urls.map(absolute) });
}

/** True where the person asked the browser to save data. Not every browser says so. */
function savesData(): boolean {
  if (!('connection' in navigator)) return false;
  const { connection } = navigator;
  return typeof connection === 'object' && connection !== null && 'saveData' in connection
    ? connection.saveData === true
    : false;
}

function absolute(url: string): string {
  return new URL(url, location.href).href;
}

function send(worker: ServiceWorker, message: WorkerMessage): void {
  worker.postMessage(message);
}
