import { createScenario } from '../../demo-clips/generator/scenario.ts';
import type { YardstickCase } from '../../demo-clips/generator/yardstick/cases.ts';
import { sidedIndex } from '../../src/core/pose/landmark.ts';
import { angleBetweenDeg } from '../../src/core/math/angle.ts';
import type { Pose } from '../../src/core/pose/pose-frame.ts';
import { interpolatedPose } from '../../tests/yardstick/interpolated-pose.ts';
import { foundFrames, type TraceModel, type YardstickTrace } from '../../tests/yardstick/trace.ts';
import { jointOf, truthOf } from '../../tests/yardstick/truth.ts';

const ARM = ['shoulder', 'elbow', 'wrist'] as const;

/** How far what is found lies from something, root mean squares over moments. */
interface Distance {
  /** Of the treated shoulder, elbow and wrist, pixels. */
  readonly armPx: number;
  /** Of the treated elbow's angle in the picture. */
  readonly elbowDeg: number;
}

/** What interpolation misses at moments that it was not given. */
export interface BetweenMoments {
  readonly moments: number;
  /** From what the network truly found there. */
  readonly interpolated: Distance;
  /** Of what the network found from the truth, for comparison. */
  readonly network: Distance;
}

/**
 * Gives interpolation `keep` moments, spread evenly over a densely drawn case, and compares it at all others. Moments
 * in which nobody was found either way do not count; null when none counts.
 */
export function betweenMoments(
  denseCase: YardstickCase,
  trace: YardstickTrace,
  model: TraceModel,
  keep: number,
): BetweenMoments | null {
  const { side } = denseCase.outline;
  const truthAt = truthOf(createScenario(denseCase.outline));
  const frames = foundFrames(trace, model);
  const isKept = (index: number): boolean =>
    Math.floor((index * keep) / frames.length) !== Math.floor(((index - 1) * keep) / frames.length);
  const poseAt = interpolatedPose(
    truthAt,
    frames.filter((_, index) => isKept(index)),
  );
  const arm = (pose: Pose) => ARM.flatMap((name) => pose.image[sidedIndex(side, name)] ?? []);
  const compared = frames.flatMap((frame, index) => {
    if (isKept(index) || frame.pose === null) return [];
    const moment = truthAt(frame.timeSeconds);
    const guessed = poseAt(moment);
    if (guessed === null) return [];
    const truth = ARM.map((name) => moment.joints[jointOf(`${side}_${name}`)]);
    return [
      {
        found: arm(frame.pose),
        guessed: arm(guessed),
        truth: truth.map(({ xPx, yPx }) => ({ x: xPx, y: yPx })),
      },
    ];
  });
  if (compared.length === 0) return null;
  return {
    moments: compared.length,
    interpolated: distanceOf(compared.map(({ found, guessed }) => [found, guessed])),
    network: distanceOf(compared.map(({ found, truth }) => [found, truth])),
  };
}

interface Place {
  readonly x: number;
  readonly y: number;
}

function distanceOf(pairs: readonly (readonly [readonly Place[], readonly Place[]])[]): Distance {
  const px = pairs.flatMap(([a, b]) =>
    a.map(({ x, y }, index) => Math.hypot(x - (b[index]?.x ?? NaN), y - (b[index]?.y ?? NaN))),
  );
  return {
    armPx: rootMeanSquare(px),
    elbowDeg: rootMeanSquare(pairs.map(([a, b]) => flexionDeg(a) - flexionDeg(b))),
  };
}

function flexionDeg([shoulder, elbow, wrist]: readonly Place[]): number {
  if (shoulder === undefined || elbow === undefined || wrist === undefined) return NaN;
  return angleBetweenDeg(elbow.x - shoulder.x, elbow.y - shoulder.y, wrist.x - elbow.x, wrist.y - elbow.y);
}

function rootMeanSquare(values: readonly number[]): number {
  return Math.sqrt(values.reduce((sum, value) => sum + value * value, 0) / values.length);
}
