import { randomUUID } from 'node:crypto';
import { readFileSync } from 'node:fs';
import { endPage, killRuns, KILLS } from '../browser/storage/kill-runs.ts';
import { StorageBrowser } from '../browser/storage/storage-browser.ts';
import { seededRandom } from '../helpers/seeded-random.ts';
import { hostileRuns } from './hostile.ts';
import type { FaultWork } from './in-page.ts';

/** One fault that was made, and what is wrong afterwards; null: nothing. */
export interface FaultRun {
  readonly fault: string;
  readonly wrong: string | null;
}

const MOST_LOST_SECONDS = 2;
/** Kills fall within so long after the work began: half of them soon, where the database is opened and brought up to date. */
const SOON_MS = 120;
const LONGEST_WORK_MS = 1500;
const sampleOf = (path: string): unknown =>
  JSON.parse(readFileSync(new URL(`../fixtures/${path}`, import.meta.url), 'utf8'));
const RECORD = sampleOf('records/v6-body-curl.record.json');
const REVIEW = sampleOf('reviews/v1-body-curl.review.json');

/** A browser whose page can do everything that is broken off here. */
export function faultBrowser(): Promise<StorageBrowser> {
  return StorageBrowser.open(undefined, '../../faults/in-page.ts');
}

/** Recordings that are killed; with what the kill may cost at most. */
export async function* recordingKills(
  browser: StorageBrowser,
  times: number,
  seed: number,
): AsyncGenerator<FaultRun> {
  for await (const { kill, lostSeconds, problem } of killRuns(browser, times, seed)) {
    const isMuch = lostSeconds > MOST_LOST_SECONDS ? `${lostSeconds.toFixed(2)} s are lost` : null;
    yield { fault: `recording, ${kill}`, wrong: problem ?? isMuch };
  }
}

/** Other work that is killed at a random moment. */
export async function* workKills(
  browser: StorageBrowser,
  work: FaultWork,
  times: number,
  seed: number,
): AsyncGenerator<FaultRun> {
  const chance = seededRandom(seed);
  for (let run = 0; run < times; run++) {
    const kill = KILLS[run % KILLS.length] ?? 'crash';
    let confirmed = 0;
    const page = await browser.newPage((fresh) =>
      fresh.exposeFunction('sayStep', (step: number) => void (confirmed = step)),
    );
    await page.evaluate(([it, record]) => window.faultPage?.prepare(it, record), [work, RECORD] as const);
    const begun = page.evaluate(
      ([it, record, review]) => {
        // Not waited for: it never ends by itself.
        void window.faultPage?.work(it, record, review);
      },
      [work, RECORD, REVIEW] as const,
    );
    await begun;
    await new Promise((resolve) =>
      setTimeout(resolve, chance() * (run % 2 === 0 ? LONGEST_WORK_MS : SOON_MS)),
    );
    await endPage(browser, page, kill);
    const after = await browser.newPage();
    const wrong = await after.evaluate(
      ([it, record, review, done]) => window.faultPage?.look(it, record, review, done),
      [work, RECORD, REVIEW, confirmed] as const,
    );
    await after.close();
    const isWrong = wrong === undefined || wrong.length > 0;
    const when = confirmed === 0 ? 'before the first step' : 'between steps';
    yield {
      fault: `${work}, ${kill}, ${when}`,
      wrong: isWrong ? (wrong?.[0] ?? 'the page did not open') : null,
    };
  }
}

/** A store without room, so many times with another little room: what is refused says so, and nothing half is kept. */
export async function* fullDisks(times: number, seed: number): AsyncGenerator<FaultRun> {
  const chance = seededRandom(seed);
  for (let run = 0; run < times; run++) {
    // Chromium remembers for half a minute how much room an origin had: each run needs one that was not asked before.
    const browser = await faultBrowser();
    const page = await browser.newPage();
    const session = await page.context().newCDPSession(page);
    const used = await page.evaluate(async () => (await navigator.storage.estimate()).usage ?? 0);
    const quotaSize = used + 30_000 + Math.floor(chance() * 300_000);
    await session.send('Storage.overrideQuotaForOrigin', { origin: browser.origin, quotaSize });
    const outcomes = await page.evaluate((it) => window.faultPage?.importAll(it, 60), RECORD);
    const corrections = await page.evaluate((it) => window.faultPage?.correctUntilFull(it), REVIEW);
    await session.send('Storage.overrideQuotaForOrigin', { origin: browser.origin });
    const added = (outcomes ?? []).filter((outcome) => outcome === 'added').length;
    const wrong = await page.evaluate(
      ([record, review, done]) => window.faultPage?.look('records', record, review, done),
      [RECORD, REVIEW, added] as const,
    );
    await page.close();
    await browser.close();
    const others = (outcomes ?? ['nothing']).filter((outcome) => outcome !== 'added' && outcome !== 'full');
    const notFull = outcomes?.includes('full') === true ? null : 'it never was full';
    yield { fault: 'full disk, import', wrong: others[0] ?? wrong?.[0] ?? notFull };
    yield { fault: 'full disk, correct', wrong: (corrections ?? ['no page'])[0] ?? null };
  }
}

/** Two tabs that take in the same records at the same time: each is kept once. */
export async function* twoTabs(browser: StorageBrowser, times: number): AsyncGenerator<FaultRun> {
  for (let run = 0; run < times; run++) {
    const [one, other] = [await browser.newPage(), await browser.newPage()];
    await one.evaluate((record) => window.faultPage?.prepare('import', record), RECORD);
    const [first = [], second = []] = await Promise.all(
      [one, other].map((page) => page.evaluate((it) => window.faultPage?.importAll(it, 20), RECORD)),
    );
    const twice = first.findIndex(
      (outcome, index) => [outcome, second[index]].sort().join() !== 'added,already-kept',
    );
    const wrong = await one.evaluate(
      ([record, review]) => window.faultPage?.look('records', record, review, 20),
      [RECORD, REVIEW] as const,
    );
    const notOnce = twice >= 0 ? `record ${twice}: ${first[twice] ?? ''} and ${second[twice] ?? ''}` : null;
    yield { fault: 'two tabs, the same records', wrong: notOnce ?? wrong?.[0] ?? null };
    const both = await Promise.all(
      [one, other].map((page, who) =>
        page.evaluate(([it, number]) => window.faultPage?.correctAll(it, number, 20), [REVIEW, who] as const),
      ),
    );
    yield { fault: 'two tabs, one review', wrong: both.flatMap((all) => all ?? ['no page'])[0] ?? null };
    await one.close();
    await other.close();
  }
}

/** The wall clock is set back in the middle of a recording: nothing of it is lost, and no time runs backwards. */
export async function* clocksSetBack(browser: StorageBrowser, times: number): AsyncGenerator<FaultRun> {
  for (let run = 0; run < times; run++) {
    const page = await browser.newPage();
    const sessionId = randomUUID();
    const facts = await page.evaluate(
      ([id, hoursBack]) => window.faultPage?.recordWithClockSetBack(id, hoursBack),
      [sessionId, 1 + run * 7] as const,
    );
    await page.close();
    const set = facts?.sets[0];
    const isWhole = facts?.state === 'finished' && set?.frames === 180 && set.differences.length === 0;
    yield { fault: 'clock set back, recording', wrong: isWhole ? null : JSON.stringify(facts).slice(0, 200) };
  }
}

/** Hostile documents, packages and backups, by kind. */
export async function* hostileInputs(times: number, seed: number): AsyncGenerator<FaultRun> {
  for await (const { kind, what, outcome, wrong } of hostileRuns(times, seed))
    yield { fault: `hostile ${kind}, ${outcome}`, wrong: wrong === null ? null : `${what}: ${wrong}` };
}
