/**
 * `npm run consult:slow [-- FOLDER]`: two real browsers hold a consult in which the patient's machine is too slow: it measures with the largest network, which
 * this machine cannot run eight times a second beside the rest. The therapist's page offers to measure the received picture, does so, and a hold is seen on
 * both sides; then it is measured on the patient's machine again. Screenshots of both sides at two widths go into FOLDER (out/consult-slow).
 */
import { mkdirSync, mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { clipTruthSchema } from '../demo-clips/generator/truth-schema.ts';
import { FIT_LIMITS } from '../src/core/pose/fit-limits.ts';
import { fakeCameraArgs, writeFakeCamera } from '../tests/helpers/fake-camera.ts';
import { ROOT } from './bootstrap.mjs';
import { recordOn } from './consult/coach.ts';
import { courseOn } from './consult/losses.ts';
import { linkUp, openPair, type Pair } from './consult/pair.ts';
import { receivedRecord } from './consult/received-record.ts';
import { readTable } from './demo-check/read-table.ts';

const CLIP = 'hold-drift';
const WIDTHS = [390, 1280] as const;
const folder = process.argv[2] ?? join(ROOT, 'out', 'consult-slow');
mkdirSync(folder, { recursive: true });
let failures = 0;

function said(what: string, isRight: boolean, found: string): void {
  console.log(`${isRight ? 'right' : 'WRONG'}  ${what}: ${found}`);
  if (!isRight) failures += 1;
}

const cameras = mkdtempSync(join(tmpdir(), 'forearmed-consult-'));
try {
  const camera = join(cameras, `${CLIP}.mjpeg`);
  const truth = clipTruthSchema.parse(
    JSON.parse(readFileSync(join(ROOT, 'demo-clips', `${CLIP}.truth.json`), 'utf8')),
  );
  const passSeconds = await writeFakeCamera(join(ROOT, 'demo-clips', `${CLIP}.mp4`), camera);
  const pair = await openPair(fakeCameraArgs(camera), { server: true });
  try {
    await pair.patient.addInitScript(() => {
      // A blank page has no storage.
      if (location.protocol.startsWith('http'))
        localStorage.setItem('forearmed.preferences', JSON.stringify({ network: 'heavy', tones: true }));
    });
    await linkUp(pair, { by: 'code', delaySeconds: 0 });
    await measureThere(pair, passSeconds);
    await bothHaveIt(pair, truth.holdsInRangeS);
    said('security policy', pair.violations().length === 0, pair.violations().join() || 'kept');
    said(
      'other addresses asked',
      pair.foreignRequests().length === 0,
      pair.foreignRequests().join() || 'none',
    );
  } catch (error) {
    await photograph(pair, 'failed');
    throw error;
  } finally {
    await pair.close();
  }
} finally {
  rmSync(cameras, { recursive: true, force: true });
}
console.log(failures === 0 ? 'All right.' : `${failures} of these are wrong.`);
process.exitCode = failures === 0 ? 0 : 1;

/** From consent to the end of a set that was measured on the therapist's machine. */
async function measureThere(pair: Pair, passSeconds: number): Promise<void> {
  const { therapist, patient } = pair;
  await therapist.getByRole('radio', { name: 'Isometric hold' }).check();
  await therapist.getByRole('radio', { name: 'Right arm' }).check();
  await therapist.getByRole('button', { name: 'Ask for this' }).click();
  await patient.getByText('Your therapist asks: Isometric hold').waitFor();
  await photograph(pair, 'consent');
  await patient.getByRole('button', { name: 'Agree' }).click();
  const offer = therapist.getByText('The patient’s machine measures fewer than');
  await offer.waitFor();
  said('too slow, and offered', true, (await offer.textContent()) ?? '');
  await photograph(pair, 'offered');

  await therapist.getByRole('button', { name: 'Measure on your machine' }).click();
  const here = therapist.getByText('Measured on your machine, from the picture as it is received');
  await here.waitFor();
  await patient.getByText('Measured on your therapist’s machine.').waitFor();
  said('both screens say where', true, ((await here.textContent()) ?? '').trim());
  said(
    'the patient’s machine measures nothing',
    (await patient.getByRole('img', { name: /as measured$/ }).count()) === 0 &&
      (await patient.getByRole('img', { name: 'Your own picture, as it is sent' }).count()) === 1,
    'its picture is sent',
  );

  await settled(pair);
  await therapist.getByRole('button', { name: 'Start a set' }).click();
  await therapist.getByText('Set 1 begun').waitFor();
  await patient.getByText('Set 1 begun').waitFor();
  // The clock of the hold on the patient's screen runs only by what comes back.
  const held = patient.getByText(/^Held in the target range/);
  await held.waitFor();
  await patient.waitForTimeout(passSeconds * 500);
  await photograph(pair, 'set');
  await patient.waitForTimeout(passSeconds * 500);
  await patient.getByRole('button', { name: 'End the set' }).click();
  for (const page of [therapist, patient]) await page.getByText(/Set 1 ended/).waitFor();
  said('ended by the patient', true, (await patient.getByText(/Set 1 ended/).textContent()) ?? '');
  await therapist.getByRole('button', { name: 'Ask for pain' }).click();
  await patient.getByRole('radio', { name: '2', exact: true }).press(' ');
  await therapist.getByText('Pain: 2 of 10').waitFor();
}

/** The therapist's machine has fitted its network and rate: no more is said of too few pictures. */
async function settled({ therapist }: Pair): Promise<void> {
  const complaints = therapist.getByText(
    /Only [\d.]+ measured pictures a second come|This machine is too slow/,
  );
  for (let calm = 0, looks = 0; calm < 5 && looks < 60; looks += 1) {
    await therapist.waitForTimeout(1_000);
    calm = (await complaints.count()) === 0 ? calm + 1 : 0;
  }
}

/** The record, on both sides alike, and what it says; then back to the patient's machine, and the end. */
async function bothHaveIt(
  { therapist, patient }: Pair,
  holdsInRangeSeconds: readonly (readonly [number, number])[],
): Promise<void> {
  await therapist.getByText('Your patient has the record of the session').waitFor();
  await patient.getByText('The record is kept here as it is at your therapist’s').waitFor();
  const [here, there] = [await courseOn(therapist), await courseOn(patient)];
  said(
    'both courses',
    here === there && here.includes('Measured on the therapist’s machine'),
    here === there ? `the same ${here.split('\n').length} entries` : `${here}\n-- and --\n${there}`,
  );
  await patient.getByRole('button', { name: 'Stop everything' }).click();
  await therapist.getByText('The other side ended the consult.').waitFor();
  await therapist.getByText('Your patient has the record of the session').waitFor();
  const records = [await recordOn(therapist), await recordOn(patient)] as const;
  said(
    'both records',
    records[0].file === records[1].file && records[0].notes === records[1].notes,
    `${records[0].file.length} and ${records[1].file.length} characters; notes "${records[0].notes}"`,
  );
  const table = readTable(join(ROOT, 'demo-clips', `${CLIP}.truth.csv`));
  const frames = Array.from({ length: table.length }, (_, row) => ({
    timeSeconds: table.number(row, 'time_s') ?? NaN,
    elbowFlexionDeg: table.number(row, 'elbow_flexion_deg') ?? NaN,
  }));
  const found = receivedRecord(records[1].file, frames, holdsInRangeSeconds);
  said('the record says where', found.source.includes('received in a consult'), found.source);
  said('the hold', found.isRight, found.words);
  // Over the whole set: photographing it halts both machines for a moment.
  said(
    'pictures enough to judge a set',
    found.rateHz >= FIT_LIMITS.leastRateHz,
    `${found.rateHz.toFixed(1)} a second, ${FIT_LIMITS.leastRateHz} are needed`,
  );
}

async function photograph({ therapist, patient }: Pair, moment: string): Promise<void> {
  for (const [page, side] of [
    [therapist, 'therapist'],
    [patient, 'patient'],
  ] as const) {
    for (const width of WIDTHS) {
      await page.setViewportSize({ width, height: width === 390 ? 844 : 800 });
      await page.screenshot({ path: join(folder, `${moment}-${side}-${String(width)}.png`), fullPage: true });
    }
  }
}
