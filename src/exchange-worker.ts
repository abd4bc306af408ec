import type { FromExchange, ToExchange } from './adapters/exchange/messages.ts';
import { PackageDesk } from './adapters/exchange/package-desk.ts';

/** The worker that seals and opens packages, so that the page stays free. */
const desk = new PackageDesk();
const say = (message: FromExchange): void => self.postMessage(message);

self.addEventListener('message', ({ data: { job, question } }: MessageEvent<ToExchange>) => {
  desk
    .answer(question, (share) => say({ job, share }))
    .then((answer) => say({ job, answer }))
    .catch((error: unknown) => say({ job, failed: error instanceof Error ? error.message : String(error) }));
});
