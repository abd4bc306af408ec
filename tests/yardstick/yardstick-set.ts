import { createScenario, type Scenario } from '../../demo-clips/generator/scenario.ts';
import type { ClipTruth } from '../../demo-clips/generator/truth-schema.ts';
import { clipTruth } from '../../demo-clips/generator/truth.ts';
import type { YardstickCase } from '../../demo-clips/generator/yardstick/cases.ts';
import type { PoseFrame } from '../../src/core/pose/pose-frame.ts';
import { seededRandom } from '../helpers/seeded-random.ts';
import { interpolatedPose } from './interpolated-pose.ts';
import { landmarkNoise } from './landmark-noise.ts';
import { foundFrames, isCurrent, type MeasuredModel, type YardstickTrace } from './trace.ts';
import { truthOf, type TruthFrame } from './truth.ts';

/** Frames as the pose service would give them, and what is true in each; both of one length. */
export interface YardstickSet {
  readonly frames: readonly PoseFrame[];
  readonly truth: readonly TruthFrame[];
  readonly events: {
    readonly repetitions: ClipTruth['repetitions'];
    /** From and to, seconds: true elbow flexion in the range of a hold, and slow. Empty for other exercises. */
    readonly holdsInRangeSeconds: ClipTruth['holdsInRangeS'];
  };
}

/** How a whole set is made from the traces of a few moments. */
export interface FullRate {
  readonly model: MeasuredModel;
  readonly rateHz: number;
  /** Of the noise from picture to picture, and of what is dropped and late. */
  readonly seed: number;
  /** Size of the noise from picture to picture: 1 as measured, 0 for none. */
  readonly noise: number;
  /** Share of pictures that are lost, 0 to 1; none without it. */
  readonly dropShare?: number;
  /** Each picture is taken up to so much earlier or later than its turn, at most a third of a step; 0 without it. */
  readonly jitterSeconds?: number;
  /** Stretches without a picture, from and to, seconds. */
  readonly gapsSeconds?: readonly (readonly [number, number])[];
}

/**
 * The whole performance of a case at full rate, as the network would have seen it.
 * @throws Error when the trace is of other pictures than the case's.
 */
export function fullRateSet(drawnCase: YardstickCase, trace: YardstickTrace, how: FullRate): YardstickSet {
  assertCurrent(drawnCase, trace);
  const scenario = createScenario(drawnCase.outline);
  const truthAt = truthOf(scenario);
  const poseAt = interpolatedPose(truthAt, foundFrames(trace, how.model));
  const { facingSide, widthPx, heightPx } = drawnCase.outline.camera;
  const withNoise = landmarkNoise(how.seed, facingSide, how.noise);
  const frames: PoseFrame[] = [];
  const truth: TruthFrame[] = [];
  for (const timeSeconds of pictureTimes(scenario.durationS, how)) {
    const moment = truthAt(timeSeconds);
    const clear = poseAt(moment);
    const pose = clear === null ? null : withNoise(clear, timeSeconds, moment.trunkPx);
    const people = pose === null ? 0 : 1;
    frames.push({ timeSeconds, widthPx, heightPx, pose, people, brightness: null });
    truth.push(moment.truth);
  }
  return { frames, truth, events: eventsOf(scenario) };
}

/**
 * The drawn moments alone, exactly as the network saw them: for errors into which no interpolation enters.
 * @throws Error when the trace is of other pictures than the case's.
 */
export function drawnSet(
  drawnCase: YardstickCase,
  trace: YardstickTrace,
  model: MeasuredModel,
): YardstickSet {
  assertCurrent(drawnCase, trace);
  const scenario = createScenario(drawnCase.outline);
  const truthAt = truthOf(scenario);
  const frames = foundFrames(trace, model);
  return {
    frames,
    truth: frames.map(({ timeSeconds }) => truthAt(timeSeconds).truth),
    events: eventsOf(scenario),
  };
}

function assertCurrent(drawnCase: YardstickCase, trace: YardstickTrace): void {
  if (!isCurrent(drawnCase, trace))
    throw new Error(`The trace of ${drawnCase.id} is of other pictures; npm run yardstick makes it anew.`);
}

/** What happens in a scene: its repetitions, and the times in the range of a hold. */
export function eventsOf(scenario: Scenario): YardstickSet['events'] {
  const { repetitions, holdsInRangeS } = clipTruth(scenario);
  return { repetitions, holdsInRangeSeconds: holdsInRangeS };
}

function pictureTimes(
  durationSeconds: number,
  { rateHz, seed, dropShare = 0, jitterSeconds = 0, gapsSeconds = [] }: FullRate,
): number[] {
  const random = seededRandom(seed);
  const mostJitter = Math.min(jitterSeconds, 1 / (3 * rateHz));
  const turns = Array.from({ length: Math.floor(durationSeconds * rateHz) }, (_, turn) => turn / rateHz);
  return turns.flatMap((turn) => {
    const [late, luck] = [random(), random()];
    const timeSeconds = Math.max(0, turn + (2 * late - 1) * mostJitter);
    const isInGap = gapsSeconds.some(([from, to]) => timeSeconds >= from && timeSeconds < to);
    return luck < dropShare || isInGap ? [] : [timeSeconds];
  });
}
