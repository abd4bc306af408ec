import type { Page } from 'playwright-core';
import type { ClipTruth } from '../../demo-clips/generator/truth-schema.ts';
import type { AcrossPair } from './across.ts';
import { seenIn } from './recorder.ts';
import { timingOf, type Timing } from './timing.ts';

/** Cues that are given in turn, with time for the words to go. */
const CUES = ['Watch me', 'Lower slowly'];
const CUE_SECONDS = 6;

/** A set is begun: the patient has agreed, both show themselves. already: the patient has agreed before. */
export async function beginSet(
  { therapist, patient }: Pick<AcrossPair, 'therapist' | 'patient'>,
  already: 'nothing' | 'agreed' = 'nothing',
): Promise<void> {
  await therapist.getByRole('radio', { name: 'Body-moving curl' }).check();
  await therapist.getByRole('radio', { name: 'Left arm' }).check();
  await therapist.getByRole('button', { name: 'Ask for this' }).click();
  if (already === 'nothing') await patient.getByRole('button', { name: 'Agree' }).click();
  await therapist.getByRole('button', { name: 'Your camera and microphone' }).click();
  await therapist.getByRole('button', { name: 'Start a set' }).click();
  await therapist.getByText('Set 1 begun').last().waitFor();
}

/** A set of a pass and a half, with cues, and what came of it to the other side. */
export async function measureSet(
  pair: AcrossPair,
  given: { readonly truth: ClipTruth; readonly passSeconds: number },
): Promise<Timing & { readonly leftOut: string; readonly way: string }> {
  const { therapist, patient } = pair;
  await beginSet(pair);
  const untilMs = Date.now() + given.passSeconds * 1_500;
  for (let each = 0; Date.now() < untilMs; each++) {
    await therapist.getByRole('button', { name: CUES[each % CUES.length] ?? '', exact: true }).click();
    await therapist.waitForTimeout(CUE_SECONDS * 1000);
  }
  const leftOut = await therapist.getByText(/^The line is poor/).allInnerTexts();
  const patientOriginMs = await patient.evaluate(() => performance.timeOrigin);
  const timing = timingOf(await seenIn(therapist), await seenIn(patient), {
    ...given,
    patientOriginMs,
    cues: CUES,
  });
  const stillSeen = await isReceiving(therapist);
  return {
    ...timing,
    leftOut: `${leftOut[0] ?? 'nothing'} (${stillSeen})`,
    way: await wayOf(therapist),
  };
}

/** What the page itself knows of its picture, in words. */
function isReceiving(page: Page): Promise<string> {
  return page.evaluate(() => {
    const video = document.querySelector('video');
    return video === null ? 'no picture' : `picture of ${video.videoWidth} x ${video.videoHeight}`;
  });
}

/** Whether packets go directly or by a relay, as the browser says. */
async function wayOf(page: Page): Promise<string> {
  const kinds = await page.evaluate('window.consultWay()');
  return kinds === 'relay' ? kinds : 'direct';
}
