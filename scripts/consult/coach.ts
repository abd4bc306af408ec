import { readFileSync } from 'node:fs';
import type { Page } from 'playwright-core';
import type { ClipTruth } from '../../demo-clips/generator/truth-schema.ts';
import { courseOn } from './losses.ts';
import type { Pair } from './pair.ts';

/** Seconds from the wish for a set to its first picture: the app counts in. */
const COUNT_IN_SECONDS = 5;

/** What a coached set is checked against. */
interface Coaching {
  readonly clip: string;
  readonly by: string;
  readonly exercise: string;
  readonly truth: ClipTruth;
  /** Length of one pass of the file behind the camera. */
  readonly passSeconds: number;
  readonly said: (what: string, isRight: boolean, found: string) => void;
  readonly photograph: (pair: Pair, moment: string) => Promise<void>;
}

/** One set from consent to the end of the consult. */
export async function coach(pair: Pair, coaching: Coaching): Promise<void> {
  const { therapist, patient } = pair;
  const { clip, by, exercise, truth, passSeconds, said, photograph } = coaching;
  const about = (what: string): string => `${clip} (by ${by}): ${what}`;

  await therapist.getByText('Your patient has not agreed to send what is measured.').waitFor();
  said(about('before consent'), await isNothingMeasured(patient), 'camera closed');

  await therapist.getByRole('radio', { name: exercise }).check();
  await therapist.getByRole('radio', { name: truth.side === 'left' ? 'Left arm' : 'Right arm' }).check();
  await therapist.getByRole('button', { name: 'Ask for this' }).click();
  await patient.getByText(`Your therapist asks: ${exercise}`).waitFor();
  await photograph(pair, 'consent');
  await patient.getByRole('button', { name: 'Agree' }).click();
  await therapist.getByRole('button', { name: 'Your camera and microphone' }).click();

  await therapist.getByText('Measured on the patient’s machine').waitFor();
  said(about('patient seen by the therapist'), await isPlaying(therapist, 'Your patient'), 'video plays');
  said(about('therapist seen by the patient'), await isPlaying(patient, 'Your therapist'), 'video plays');

  await therapist.getByRole('button', { name: 'Start a set' }).click();
  await therapist.getByText('Set 1 begun').waitFor();
  await therapist
    .getByRole('button', { name: 'Breathe' })
    .or(therapist.getByRole('button', { name: 'Lower slowly' }))
    .first()
    .click();
  await therapist.getByText(/Cue was (spoken|shown)/).waitFor();
  said(
    about('a cue came and was heard'),
    true,
    (await therapist.getByText(/Cue was (spoken|shown)/).textContent()) ?? '',
  );
  await patient.waitForTimeout(((passSeconds - COUNT_IN_SECONDS) / 2) * 1000);
  const late = ((await therapist.locator('.late').textContent()) ?? '').replace(/\s+/g, ' ');
  said(about('figures at the therapist'), /here after \d/.test(late), late.trim());
  await photograph(pair, 'set');
  await patient.waitForTimeout(((passSeconds - COUNT_IN_SECONDS) / 2) * 1000);
  await therapist.getByRole('button', { name: 'Stop the set' }).click();
  const ended = therapist.getByText(/Set 1 ended/);
  await ended.waitFor();
  said(about('the set as it ended'), true, (await ended.textContent()) ?? '');

  await therapist.getByRole('button', { name: 'Ask for pain' }).click();
  await patient.getByRole('radio', { name: '3', exact: true }).press(' ');
  await therapist.getByText('Pain: 3 of 10').waitFor();

  for (const [name, shown] of [
    ['How it is done', /^How it is done: /],
    ['Show it again', /^The treated arm and the trunk as measured, shown again/],
  ] as const) {
    await therapist.getByRole('button', { name }).click();
    for (const page of [therapist, patient]) await page.getByRole('img', { name: shown }).waitFor();
    await photograph(pair, name === 'Show it again' ? 'again' : 'demonstration');
  }
  said(about('shown to both'), true, (await patient.getByText('Shown again to both').textContent()) ?? '');
  await therapist.getByRole('button', { name: 'Stop showing' }).click();

  await patient.getByRole('switch', { name: 'Send what is measured' }).click();
  await therapist.getByText('Your patient has not agreed to send what is measured.').waitFor();
  said(about('consent taken back'), true, 'no figures come any more');

  const [here, there] = [await courseOn(therapist), await courseOn(patient)];
  said(
    about('both courses'),
    here === there && here.length > 0,
    here === there ? `the same ${here.split('\n').length} entries` : `${here}\n-- and --\n${there}`,
  );
  await patient.getByRole('button', { name: 'Stop everything' }).click();
  await therapist.getByText('The other side ended the consult.').waitFor();
  await patient.getByText('You ended the consult.').waitFor();
  await patient.getByRole('button', { name: 'Look back at what was recorded' }).waitFor();
  await photograph(pair, 'ended');
  said(about('ended by the patient'), await isNothingMeasured(patient), 'camera closed, record kept');

  await therapist.getByText('The record is kept here as it is at your patient’s').waitFor();
  await patient.getByText('Your therapist has the record of the session').waitFor();
  const records = [await recordOn(therapist), await recordOn(patient)] as const;
  said(
    about('both records'),
    records[0].file === records[1].file && records[0].notes === records[1].notes,
    `${records[0].file.length} and ${records[1].file.length} characters; notes "${records[0].notes}"`,
  );
  await photograph(pair, 'record');
}

/** The record and the notes of the consult, as a side keeps them: by the way that anybody takes them along. */
export async function recordOn(page: Page): Promise<{ readonly file: string; readonly notes: string }> {
  await page.getByRole('button', { name: 'Look back at what was recorded' }).click();
  const [download] = await Promise.all([
    page.waitForEvent('download'),
    page.getByRole('button', { name: 'Download the session record (JSON)' }).click(),
  ]);
  const file = readFileSync(await download.path(), 'utf8');
  const notes = page.getByRole('region', { name: 'Notes for the file' }).getByRole('listitem');
  await notes.first().waitFor();
  return { file, notes: (await notes.allInnerTexts()).map((note) => note.replace(/\s+/g, ' ')).join(' | ') };
}

/** Whether a video with this name shows pictures that change. */
async function isPlaying(page: Page, name: string): Promise<boolean> {
  const video = page.locator(`video[aria-label="${name}"]`);
  await video.waitFor();
  return video.evaluate(async (element) => {
    if (!(element instanceof HTMLVideoElement)) return false;
    const times: number[] = [];
    while (times.length < 2)
      await new Promise<void>((resolve) => {
        element.requestVideoFrameCallback((_now, { mediaTime }) => {
          times.push(mediaTime);
          resolve();
        });
      });
    return (times[1] ?? 0) > (times[0] ?? 0) && element.videoWidth > 0;
  });
}

/** No video of the own camera on the page. */
async function isNothingMeasured(page: Page): Promise<boolean> {
  return (await page.getByRole('img', { name: /^Your own picture/ }).count()) === 0;
}
