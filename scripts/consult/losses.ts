import type { Page } from 'playwright-core';
import type { AcrossPair } from './across.ts';
import { beginSet } from './measured-set.ts';
import type { Networks } from './namespaces.ts';
import { confirmPhrase, inviteByServer } from './pair.ts';
import { liveIn, seenIn } from './recorder.ts';

type Said = (what: string, isRight: boolean, found: string) => void;

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
    await therapist.waitForTimeout(8_000);
    const before = liveIn(await seenIn(therapist)).at(-1);
    const cutMs = Date.now();
    networks.setPlugged(false);
    await patient.waitForTimeout(seconds * 1000);
    networks.setPlugged(true);
    const backMs = Date.now();
    const again = await nextFigures(therapist, backMs);
    const gap = (again.atMs - (before?.atMs ?? cutMs)) / 1000;
    const isSetOn = again.message.isInSet && again.message.repetitions >= (before?.message.repetitions ?? 0);
    said(
      `cut of ${seconds} s`,
      isSetOn,
      `figures again ${((again.atMs - backMs) / 1000).toFixed(1)} s after the network; none for ${gap.toFixed(1)} s; the set went on, from ${before?.message.repetitions ?? 0} to ${again.message.repetitions} repetitions`,
    );
    await therapist.waitForTimeout(3_000);
    await sameCourse(pair, `cut of ${seconds} s`, said);
  }
  await therapist.getByRole('button', { name: 'Stop the set' }).click();
  const ended = therapist.getByText(/Set 1 ended/);
  await ended.waitFor();
  said('the set through all cuts', true, (await ended.textContent()) ?? '');
}

/** Each page is loaded again, and a tab is closed, in a set. */
export async function loseOf(pair: AcrossPair, said: Said): Promise<void> {
  const { therapist, patient } = pair;
  await beginSet(pair);
  await therapist.waitForTimeout(4_000);

  for (const how of ['loaded again', 'loaded a second time'] as const) {
    const beganMs = Date.now();
    await therapist.reload();
    await therapist.getByRole('button', { name: 'End the consult' }).waitFor();
    const again = await nextFigures(therapist, beganMs);
    said(
      `therapist's page ${how}`,
      again.message.isInSet,
      `figures again after ${((again.atMs - beganMs) / 1000).toFixed(1)} s, no words compared; the set went on and stands at ${again.message.repetitions} repetitions`,
    );
    await therapist.waitForTimeout(2_000);
  }

  for (const how of ['loaded again', 'loaded a second time'] as const) {
    const beganMs = Date.now();
    await patient.reload();
    await patient.getByRole('button', { name: 'Stop everything' }).waitFor();
    const seconds = (Date.now() - beganMs) / 1000;
    const isClosed = (await patient.getByRole('img', { name: /^Your own picture/ }).count()) === 0;
    await patient.getByRole('button', { name: 'Agree' }).waitFor();
    said(
      `patient's page ${how}`,
      isClosed,
      `in the consult again after ${seconds.toFixed(1)} s, camera closed until consent is given again`,
    );
    await patient.waitForTimeout(2_000);
  }
  const kept = await patient.context().newPage();
  await kept.goto(`${pair.urls.patient}#/sessions`);
  const sessions = await kept.getByRole('link', { name: /Body-moving curl/ }).count();
  said(
    'the set that ran when the patient’s page was lost',
    sessions > 0,
    `${sessions} session kept on the patient's machine`,
  );
  await kept.close();

  // A tab that is closed is forgotten: nobody else at that machine gets in. A new code brings both together.
  const url = pair.urls.therapist;
  const next = await therapist.context().newPage();
  next.setDefaultTimeout(90_000);
  await therapist.close();
  const code = await inviteByServer({ url, therapist: next }, 'code');
  await patient.getByText('The line to your therapist is down').waitFor();
  await patient.getByRole('textbox', { name: 'Code or invitation' }).fill(code);
  await patient.getByRole('button', { name: 'Join', exact: true }).click();
  await confirmPhrase({ therapist: next, patient });
  said("therapist's tab closed", true, 'a new code from a new tab, words compared again');
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
