import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import type { ClipTruth } from '../../demo-clips/generator/truth-schema.ts';
import { ROOT } from '../bootstrap.mjs';
import { liveIn, type Seen } from './recorder.ts';

/** What came to the therapist of what happened before the patient's camera. */
export interface Timing {
  /** From the true end of each repetition to its number on the therapist's screen, seconds. */
  readonly repetitionSeconds: readonly number[];
  /** From measuring a picture to its figures being at the therapist, seconds. */
  readonly figureSeconds: readonly number[];
  /** From the press of a cue's button to its words on the patient's screen, seconds. */
  readonly cueSeconds: readonly number[];
  readonly cuesGiven: number;
  readonly picturesMeasured: number;
  readonly picturesCame: number;
}

/** Works it out. Both browsers run on one machine, so they have one wall clock. patientOriginMs: the patient page's own zero. */
export function timingOf(
  therapist: Seen,
  patient: Seen,
  given: {
    readonly truth: ClipTruth;
    readonly passSeconds: number;
    readonly patientOriginMs: number;
    readonly cues: readonly string[];
  },
): Timing {
  const live = liveIn(therapist).filter(({ message }) => message.isInSet);
  const first = live[0]?.message.number ?? 1;
  const last = live.at(-1)?.message.number ?? 0;
  const measuredAt = (measuredMs: number): number => measuredMs + given.patientOriginMs;
  return {
    repetitionSeconds: repetitionDelays(therapist, live, measuredAt, given),
    figureSeconds: live.map(({ atMs, message }) => (atMs - measuredAt(message.measuredMs)) / 1000),
    cueSeconds: given.cues.flatMap((words) => cueDelays(therapist, patient, words)),
    cuesGiven: therapist.asked.filter(({ text }) => given.cues.includes(text)).length,
    picturesMeasured: last - first + 1,
    picturesCame: live.length,
  };
}

type Live = ReturnType<typeof liveIn>;

function repetitionDelays(
  therapist: Seen,
  live: Live,
  measuredAt: (measuredMs: number) => number,
  { truth, passSeconds }: { readonly truth: ClipTruth; readonly passSeconds: number },
): readonly number[] {
  const zero = clipZero(live, truth.clip, passSeconds);
  // The quickest picture's way through the measuring is not counted: no clock of the camera is known better than by it.
  const captureToWallMs = Math.min(
    ...live.map(({ message }) => measuredAt(message.measuredMs) - message.timeSeconds * 1000),
  );
  const from = live[0]?.message.timeSeconds ?? 0;
  const to = live.at(-1)?.message.timeSeconds ?? 0;
  const ends: number[] = [];
  for (let pass = Math.floor((from - zero) / passSeconds); zero + pass * passSeconds < to; pass++)
    for (const { endS } of truth.repetitions)
      ends.push((zero + pass * passSeconds + endS) * 1000 + captureToWallMs);
  const delays: number[] = [];
  for (const [index, { message }] of live.entries()) {
    const before = live[index - 1]?.message.repetitions ?? 0;
    if (message.repetitions <= before) continue;
    const shown = therapist.count.find(
      ({ atMs, text }) =>
        atMs >= (live[index]?.atMs ?? 0) && new RegExp(`(^|\\D)${message.repetitions}(\\D|$)`).test(text),
    );
    const end = ends.findLast((endMs) => endMs <= (shown?.atMs ?? 0));
    if (shown !== undefined && end !== undefined) delays.push((shown.atMs - end) / 1000);
  }
  return delays;
}

/** The picture's time at which the clip began, by the measured elbow against the true one. */
function clipZero(live: Live, clip: string, passSeconds: number): number {
  const [head = '', ...rows] = readFileSync(join(ROOT, 'demo-clips', `${clip}.truth.csv`), 'utf8')
    .trim()
    .split('\n');
  const column = head.split(',').indexOf('elbow_flexion_deg');
  const angles = rows.map((row) => Number(row.split(',')[column]));
  const rate = angles.length / passSeconds;
  let best = { zero: 0, error: Infinity };
  for (let zero = 0; zero < passSeconds; zero += 1 / 60) {
    let [sum, count] = [0, 0];
    for (const { message } of live) {
      const { elbowFlexionDeg, timeSeconds } = message;
      if ('notMeasured' in elbowFlexionDeg) continue;
      const phase = (((timeSeconds - zero) % passSeconds) + passSeconds) % passSeconds;
      sum += Math.abs(
        (angles[Math.min(angles.length - 1, Math.round(phase * rate))] ?? 0) - elbowFlexionDeg.value,
      );
      count += 1;
    }
    if (sum / count < best.error) best = { zero, error: sum / count };
  }
  return best.zero;
}

function cueDelays(therapist: Seen, patient: Seen, words: string): readonly number[] {
  const asked = therapist.asked.filter(({ text }) => text === words);
  return asked.flatMap(({ atMs }, index) => {
    const next = asked[index + 1]?.atMs ?? Infinity;
    const shown = patient.cue.find((cue) => cue.atMs >= atMs && cue.atMs < next && cue.text.includes(words));
    return shown === undefined ? [] : [(shown.atMs - atMs) / 1000];
  });
}

/** The middle one of these, the upper of two; NaN of none. */
export function medianOf(seconds: readonly number[]): number {
  return seconds.toSorted((a, b) => a - b)[Math.floor(seconds.length / 2)] ?? Number.NaN;
}

/** "median 0.12, longest 0.30 s (n)". */
export function spread(seconds: readonly number[]): string {
  if (seconds.length === 0) return 'none';
  return `median ${medianOf(seconds).toFixed(2)}, longest ${Math.max(...seconds).toFixed(2)} s (${seconds.length})`;
}
