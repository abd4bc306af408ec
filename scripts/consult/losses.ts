import type { Page } from 'playwright-core';
import { sessionRecordSchema } from '../../src/core/session/session-record.ts';
import { decodeFrames } from '../../src/core/session/quantised-frames.ts';
import type { AcrossPair } from './across.ts';
import { recordOn } from './coach.ts';
import { beginSet } from './measured-set.ts';
import type { Networks } from './namespaces.ts';
import { confirmPhrase, inviteByServer, joinByServer } from './pair.ts';
import { liveIn, record, seenIn } from './recorder.ts';

type Said = (what: string, isRight: boolean, found: string) => void;

/** Goals, chosen for this tool, no source: a set of ten repetitions lasts about a minute, and a line that is back is to show the end of it. */
const CUT_BACK_SECONDS = 15;
const PAGE_BACK_SECONDS = 5;
/** A picture in 400 ms is what a figure is drawn through between two; more than this apart, a second of the set was not recorded. */
const RECORDED_GAP_SECONDS = 1;
/** Figures go blank two seconds after the last one; the screen is looked at a little later. */
const BLANK_SECONDS = 3;

/** The patient's cable is out for so long, in one set. */
export async function cutIn(
  pair: AcrossPair,
  networks: Networks,
  cutsSeconds: readonly number[],
  said: Said,
): Promise<void> {
  const { therapist, patient } = pair;
  await beginSet(pair);
  for (const seconds of cutsSeconds) {
    const about = `cut of ${seconds} s`;
    await therapist.waitForTimeout(6_000);
    const cutMs = Date.now();
    networks.setPlugged(false);
    await patient.waitForTimeout(BLANK_SECONDS * 1000);
    const stale = await therapist.locator('.numbers').count();
    said(`${about}, figures meanwhile`, stale === 0, stale === 0 ? 'none shown' : 'old ones are shown');
    await patient.waitForTimeout((seconds - BLANK_SECONDS) * 1000);
    networks.setPlugged(true);
    const backMs = Date.now();
    const before = liveIn(await seenIn(therapist)).findLast(({ atMs }) => atMs < backMs);
    const again = await nextFigures(therapist, backMs);
    const backSeconds = (again.atMs - backMs) / 1000;
    const gap = (again.atMs - (before?.atMs ?? cutMs)) / 1000;
    const [from, to] = [before?.message.repetitions ?? 0, again.message.repetitions];
    said(`${about}, set`, again.message.isInSet && to >= from, `went on, from ${from} to ${to} repetitions`);
    said(
      `${about}, figures again`,
      backSeconds <= CUT_BACK_SECONDS,
      `${backSeconds.toFixed(1)} s after the network (goal ${CUT_BACK_SECONDS}); none for ${gap.toFixed(1)} s`,
    );
    await therapist.waitForTimeout(3_000);
    await sameCourse(pair, about, said);
  }
  await stopSet(therapist, said, 'the set through all cuts');
  await sameRecords(pair, 'after all cuts', said);
}

/** Each page is loaded again, and each tab is killed, in a set. */
export async function loseOf(pair: AcrossPair, said: Said): Promise<void> {
  let { therapist, patient } = pair;
  await beginSet(pair);
  await therapist.waitForTimeout(6_000);

  let beganMs = Date.now();
  await therapist.reload();
  await backInSet(therapist, beganMs, "therapist's page loaded again", said);

  beganMs = Date.now();
  await patient.reload();
  await patient.getByRole('button', { name: 'Stop everything' }).waitFor();
  const seconds = (Date.now() - beganMs) / 1000;
  const isClosed = (await patient.getByRole('img', { name: /^Your own picture/ }).count()) === 0;
  said(
    "patient's page loaded again",
    isClosed && seconds <= PAGE_BACK_SECONDS,
    `in the consult after ${seconds.toFixed(1)} s (goal ${PAGE_BACK_SECONDS}), camera ${isClosed ? 'closed' : 'open'} until consent is given again`,
  );
  await takenUp(
    { therapist, patient },
    pair.urls.therapist,
    'the set that ran when it was loaded again',
    said,
  );

  // The new page of the therapist's asks anew: it does not know what the one before asked.
  await beginSet({ therapist, patient }, 'agreed');
  await therapist.waitForTimeout(6_000);
  patient = await killed(patient);
  let code = await inviteAnew(therapist);
  await joinByServer({ url: pair.urls.patient, patient }, code);
  await confirmPhrase({ therapist, patient });
  said("patient's tab killed", true, 'a new code from the same page, words compared again');
  beganMs = Date.now();
  await takenUp({ therapist, patient }, pair.urls.therapist, 'the set that ran when it was killed', said);
  const again = await nextFigures(therapist, beganMs);
  said(
    'what was asked, after it was killed',
    again.message.exercise === 'body-curl',
    `measured again for it ${((again.atMs - beganMs) / 1000).toFixed(1)} s after consent, nothing asked anew`,
  );

  await therapist.getByRole('button', { name: 'Start a set' }).click();
  await therapist.getByText('Set 1 begun').last().waitFor();
  await therapist.waitForTimeout(6_000);
  therapist = await killed(therapist);
  code = await inviteByServer({ url: pair.urls.therapist, therapist }, 'code');
  await patient.getByText('The line to your therapist is down').waitFor();
  await patient.getByRole('textbox', { name: 'Code or invitation' }).fill(code);
  beganMs = Date.now();
  await patient.getByRole('button', { name: 'Join', exact: true }).click();
  await confirmPhrase({ therapist, patient });
  await backInSet(therapist, beganMs, "therapist's tab killed, a new code from a new one", said, 30);
  await stopSet(therapist, said, "the set through the loss of the therapist's tab");
  await sameRecords({ ...pair, therapist, patient }, 'after all losses', said);
}

/** A lost session is ended by the patient's new page, and is at the therapist's once the patient agrees. */
async function takenUp(
  { therapist, patient }: Pick<AcrossPair, 'therapist' | 'patient'>,
  url: string,
  what: string,
  said: Said,
): Promise<void> {
  const beside = await therapist.context().newPage();
  const before = await sessionsOn(beside, url);
  const beganMs = Date.now();
  await patient.getByRole('button', { name: 'Agree' }).click();
  const isMore = (now: string): boolean =>
    now !== '' && now.split('\n').length > before.split('\n').filter(Boolean).length;
  let isKept = false;
  while (!isKept && Date.now() - beganMs < 30_000) {
    await beside.reload();
    isKept = isMore(await sessionsOn(beside, url));
  }
  await beside.close();
  said(
    what,
    isKept,
    isKept
      ? `kept at the therapist's too, at most ${((Date.now() - beganMs) / 1000).toFixed(1)} s after consent`
      : 'not at the therapist’s',
  );
}

/** The tab's process dies, as in a crash; another tab of the same browser. */
async function killed(page: Page): Promise<Page> {
  const next = await page.context().newPage();
  next.setDefaultTimeout(90_000);
  await record(next);
  const crash = page.waitForEvent('crash');
  page.goto('chrome://crash').catch(() => undefined);
  await crash;
  await page.close();
  return next;
}

/** A new invitation from the page of a consult whose line is down. */
async function inviteAnew(therapist: Page): Promise<string> {
  await therapist.getByRole('button', { name: 'Make an invitation' }).click();
  const code = therapist.locator('.code');
  await code.waitFor();
  return (await code.innerText()).trim();
}

async function backInSet(
  therapist: Page,
  beganMs: number,
  what: string,
  said: Said,
  goalSeconds = PAGE_BACK_SECONDS,
): Promise<void> {
  await therapist.getByRole('button', { name: 'End the consult' }).waitFor();
  const again = await nextFigures(therapist, beganMs);
  const seconds = (again.atMs - beganMs) / 1000;
  said(
    what,
    again.message.isInSet && seconds <= goalSeconds,
    `figures again after ${seconds.toFixed(1)} s (goal ${goalSeconds}); the set went on and stands at ${again.message.repetitions} repetitions`,
  );
}

async function stopSet(therapist: Page, said: Said, what: string): Promise<void> {
  await therapist.getByRole('button', { name: 'Stop the set' }).click();
  const ended = therapist.getByText(/Set 1 ended/).last();
  await ended.waitFor();
  said(what, true, (await ended.textContent()) ?? '');
}

/** Both end with the same sessions, the last one the same to the letter, and recorded without a gap. */
async function sameRecords(
  { therapist, patient, urls }: AcrossPair,
  about: string,
  said: Said,
): Promise<void> {
  await patient.getByRole('button', { name: 'Stop everything' }).click();
  await therapist.getByText('The record is kept here as it is at your patient’s').first().waitFor();
  await patient.getByText('Your therapist has the record of the session').waitFor();
  const [here, there] = [await recordOn(therapist), await recordOn(patient)];
  said(
    `both records ${about}`,
    here.file === there.file && here.notes === there.notes,
    `${here.file.length} and ${there.file.length} characters; ${here.notes === there.notes ? 'the same' : 'other'} notes`,
  );
  const gap = longestGap(there.file);
  said(
    `recorded ${about}`,
    gap <= RECORDED_GAP_SECONDS,
    `longest time between two pictures of the set ${gap.toFixed(2)} s (goal ${RECORDED_GAP_SECONDS})`,
  );
  const lists = [
    await sessionsOn(therapist, urls.therapist),
    await sessionsOn(patient, urls.patient),
  ] as const;
  said(
    `sessions kept ${about}`,
    lists[0] === lists[1] && lists[0] !== '',
    lists[0] === lists[1] ? `the same ${lists[0].split('\n').length}` : `${lists[0]}\n-- and --\n${lists[1]}`,
  );
}

function longestGap(file: string): number {
  const { sets } = sessionRecordSchema.parse(JSON.parse(file));
  const gaps = sets.flatMap(({ frames }) => {
    const times = decodeFrames(frames).map(({ timeSeconds }) => timeSeconds);
    return times.slice(1).map((time, index) => time - (times[index] ?? time));
  });
  return Math.max(...gaps);
}

/** The sessions that a side keeps, each with its figures, in words. */
async function sessionsOn(page: Page, url: string): Promise<string> {
  await page.goto(`${url}#/sessions`);
  const reader = page.getByRole('radio', { name: /^The patient/ });
  if ((await reader.count()) > 0) await reader.check();
  const rows = page.getByRole('listitem').filter({ has: page.getByRole('heading', { level: 3 }) });
  await rows.first().or(page.getByText('No session is kept here yet')).waitFor();
  return (await rows.allInnerTexts()).map((row) => row.replace(/\s+/g, ' ')).join('\n');
}

/** The first figures that came after a moment. */
async function nextFigures(therapist: Page, afterMs: number): Promise<ReturnType<typeof liveIn>[number]> {
  const untilMs = Date.now() + 90_000;
  while (Date.now() < untilMs) {
    const found = liveIn(await seenIn(therapist)).find(({ atMs }) => atMs > afterMs);
    if (found !== undefined) return found;
    await therapist.waitForTimeout(200);
  }
  throw new Error('No figures came again within 90 s.');
}

async function sameCourse({ therapist, patient }: AcrossPair, about: string, said: Said): Promise<void> {
  const [here, there] = [await courseOn(therapist), await courseOn(patient)];
  said(
    `${about}, courses`,
    here === there && here !== '',
    here === there ? `the same ${here.split('\n').length} entries` : `${here}\n-- and --\n${there}`,
  );
}

/** The course as a side shows it. */
export async function courseOn(page: Page): Promise<string> {
  const lines = await page
    .getByRole('region', { name: 'What happened' })
    .getByRole('listitem')
    .allInnerTexts();
  return lines.map((line) => line.replace(/\s+/g, ' ')).join('\n');
}
