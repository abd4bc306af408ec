import { JudgingDesk } from './adapters/judging/judging-desk.ts';
import type { ToJudge } from './adapters/judging/messages.ts';
import { openSessionStore } from './adapters/storage/open-session-store.ts';
import type { SessionStore } from './core/session/session-store.ts';

/** The worker that judges whole sets and opens records, so that the page stays free: joins judging and storage. */
let store: Promise<SessionStore> | null = null;

const desk = new JudgingDesk(
  () => (store ??= openDatabase()),
  (message, handedOver = []) => self.postMessage(message, { transfer: handedOver }),
);

async function openDatabase(): Promise<SessionStore> {
  const opened = await openSessionStore();
  // A store for the visit would be this worker's own, and empty: the page has to do it.
  if (opened.problem !== null) throw new Error(`The worker has no database: ${opened.problem}.`);
  return opened.store;
}

self.addEventListener('message', ({ data }: MessageEvent<ToJudge>) => void desk.take(data));
