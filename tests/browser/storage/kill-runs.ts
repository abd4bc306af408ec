import { randomUUID } from 'node:crypto';
import type { Page } from 'playwright-core';
import { seededRandom } from '../../helpers/seeded-random.ts';
import type { KeptFacts, Progress } from './in-page.ts';
import type { StorageBrowser } from './storage-browser.ts';

/** How a recording is ended from outside. */
export const KILLS = ['crash', 'kill the process', 'close the tab', 'kill the browser'] as const;
export type Kill = (typeof KILLS)[number];

/** What one kill cost. */
export interface KillRun {
  readonly kill: Kill;
  readonly sessionId: string;
  /** From the first frame to the kill. */
  readonly recordedSeconds: number;
  readonly setsBegun: number;
  readonly lostSeconds: number;
  readonly kept: KeptFacts;
  /** What is wrong with what was kept, or null. */
  readonly problem: string | null;
}

const SHORTEST_SECONDS = 0.2;
const LONGEST_SECONDS = 9;

/** Short sets, so that kills also fall on judging and between sets. */
const SHORT_SET_SECONDS = 2.5;
/** Sets that outlast every run, so that nothing but the recorder's own writing in time limits what is lost. */
const LONG_SET_SECONDS = 60;

/** Records in real time and kills at a random moment, so many times; the same seed kills at the same moments. */
export async function* killRuns(
  browser: StorageBrowser,
  times: number,
  seed: number,
): AsyncGenerator<KillRun> {
  const chance = seededRandom(seed);
  for (let run = 0; run < times; run++) {
    const kill = KILLS[run % KILLS.length] ?? 'crash';
    const afterSeconds = SHORTEST_SECONDS + chance() * (LONGEST_SECONDS - SHORTEST_SECONDS);
    const setSeconds = chance() < 0.5 ? SHORT_SET_SECONDS : LONG_SET_SECONDS;
    yield await killRun(browser, kill, afterSeconds, setSeconds);
  }
}

/** Looks at every session once more; what is wrong with any of them. */
export async function stillReadable(browser: StorageBrowser, runs: readonly KillRun[]): Promise<string[]> {
  const page = await browser.newPage();
  const wrong: string[] = [];
  for (const { sessionId, kept } of runs) {
    if (kept.state === 'not listed') continue;
    const again = await page.evaluate((id) => window.storagePage?.inspect(id), sessionId);
    if (again === undefined || again.problem !== null || again.state !== 'finished')
      wrong.push(`${sessionId}: ${again?.state ?? 'no page'}, ${again?.problem ?? 'no problem'}`);
    else if (again.sets.length !== kept.sets.length) wrong.push(`${sessionId}: not as many sets as before`);
  }
  await page.close();
  return wrong;
}

async function killRun(
  browser: StorageBrowser,
  kill: Kill,
  afterSeconds: number,
  setSeconds: number,
): Promise<KillRun> {
  const sessionId = randomUUID();
  const said: Progress[] = [];
  const page = await browser.newPage((fresh) =>
    fresh.exposeFunction('sayProgress', (progress: Progress) => void said.push(progress)),
  );
  await page.evaluate(([id, seconds]) => window.storagePage?.recordForEver(id, seconds), [
    sessionId,
    setSeconds,
  ] as const);
  while (said.length === 0) await pause(5);
  await pause(afterSeconds * 1000);
  await endPage(browser, page, kill);
  const endedAtMs = Date.now();

  const kept = await lookAt(browser, sessionId);
  const [first, last] = [said[0], said.at(-1)];
  if (first === undefined || last === undefined) throw new Error('The page recorded nothing.');
  return {
    kill,
    sessionId,
    recordedSeconds: (endedAtMs - first.saidAtMs) / 1000,
    setsBegun: last.setIndex + 1,
    lostSeconds: lostSeconds(last, kept, endedAtMs),
    kept,
    problem: problemOf(kept, said),
  };
}

/** Ends the recording; settles when the page is certainly gone, so that what is lost is never counted too low. */
export async function endPage(browser: StorageBrowser, page: Page, kill: Kill): Promise<void> {
  if (kill === 'close the tab') return page.close();
  if (kill === 'kill the browser') return browser.killBrowser();
  const crashed = new Promise((resolve) => page.once('crash', resolve));
  if (kill === 'kill the process') await browser.killRenderers();
  else {
    const session = await page.context().newCDPSession(page);
    // Never answered: the page that should answer is gone.
    session.send('Page.crash').catch(() => null);
  }
  await crashed;
  await page.close();
}

/** Looks at the session as the app does after a crash: judges what broke off, then ends the session. */
async function lookAt(browser: StorageBrowser, sessionId: string): Promise<KeptFacts> {
  const page = await browser.newPage();
  const facts = await page.evaluate(async (id) => {
    const storage = window.storagePage;
    if (storage === undefined) throw new Error('no page');
    const before = await storage.inspect(id);
    if (before.state !== 'not listed') await storage.finish(id);
    return before;
  }, sessionId);
  await page.close();
  return facts;
}

/** From the last frame that is kept to the end, in the set that was last; between sets only frames can be lost. */
function lostSeconds(last: Progress, kept: KeptFacts, endedAtMs: number): number {
  const set = kept.sets[last.setIndex];
  const keptUntil = set?.lastFrameSeconds ?? last.firstFrameSeconds;
  const unsaid = last.isOpen ? (endedAtMs - last.saidAtMs) / 1000 : 0;
  return Math.max(0, last.lastFrameSeconds - keptUntil) + unsaid;
}

function problemOf(kept: KeptFacts, said: readonly Progress[]): string | null {
  const last = said.at(-1);
  if (kept.state === 'not listed') return last?.setIndex === 0 ? null : 'the whole session is lost';
  if (kept.problem !== null) return `not readable: ${kept.problem}`;
  if (kept.state !== 'unfinished') return `listed as ${kept.state}`;
  for (const [index, set] of kept.sets.entries()) {
    if (set.differences.length > 0)
      return `set ${index + 1} is judged differently again: ${set.differences[0]}`;
    const ended = said.find(({ setIndex, isOpen }) => setIndex === index && !isOpen);
    // A set before the last one has been followed by the beginning of the next, so all of it was written.
    if (ended !== undefined && index < (last?.setIndex ?? 0) && (set.frames !== ended.frames || set.cutOff))
      return `set ${index + 1} has ${set.frames} of ${ended.frames} frames`;
  }
  return null;
}

function pause(ms: number): Promise<void> {
  return new Promise((resolve) => setTimeout(resolve, ms));
}
