import { LANDMARK_NAMES } from '../../src/core/pose/landmark.ts';
import type { Pose, PoseFrame } from '../../src/core/pose/pose-frame.ts';
import { clamp } from '../../src/core/math/statistics.ts';
import { flexionCurve } from './flexion-curve.ts';
import { trueSides, withExchanged, type TrueSides } from './label-exchange.ts';
import { jointOf, type TrueMoment } from './truth.ts';

/** Numbers of a landmark in a knot: error in x and y, pixels; visibility; world x, y, z, metres. */
const VALUES = 6;

/** A drawn moment as it is used between the others. */
interface Drawn {
  readonly flexionDeg: number;
  /** Null where nobody was found. */
  readonly sides: TrueSides | null;
  readonly values: readonly number[];
}

/**
 * What the network would have found at any moment of a performance, from what it found at the drawn ones. The error of
 * each landmark (found minus true joint, pixels), its visibility and its world place are taken over the true elbow
 * flexion and added to where the joint truly is. Nobody is found, and labels are exchanged, where it was so at the drawn
 * moment whose flexion is nearest. drawn: frames at drawn moments, at least one.
 */
export function interpolatedPose(
  truthAt: (timeSeconds: number) => TrueMoment,
  drawn: readonly PoseFrame[],
): (moment: TrueMoment) => Pose | null {
  const knots = drawn.map((frame) => asKnot(frame, truthAt(frame.timeSeconds)));
  const seen = knots.filter(({ sides }) => sides !== null);
  if (seen.length === 0) return () => null;
  const curve = flexionCurve(seen);
  return (moment) => {
    const { elbowFlexionDeg } = moment.truth;
    const nearest = knots.reduce((best, knot) =>
      Math.abs(knot.flexionDeg - elbowFlexionDeg) < Math.abs(best.flexionDeg - elbowFlexionDeg) ? knot : best,
    );
    if (nearest.sides === null) return null;
    const pose = poseOf(curve(elbowFlexionDeg), moment);
    return withExchanged(pose, nearest.sides.exchangedGroups);
  };
}

function asKnot({ pose }: PoseFrame, moment: TrueMoment): Drawn {
  const flexionDeg = moment.truth.elbowFlexionDeg;
  if (pose === null) return { flexionDeg, sides: null, values: [] };
  const sides = trueSides(pose, moment);
  const values = LANDMARK_NAMES.flatMap((name, index) => {
    const point = sides.pose.image[index];
    const world = sides.pose.world[index];
    if (point === undefined || world === undefined) throw new Error(`interpolatedPose: ${name} is missing.`);
    const { xPx, yPx } = moment.joints[jointOf(name)];
    return [point.x - xPx, point.y - yPx, point.visibility, world.x, world.y, world.z];
  });
  return { flexionDeg, sides, values };
}

function poseOf(values: readonly number[], { joints }: TrueMoment): Pose {
  const value = (landmark: number, which: number): number => values[landmark * VALUES + which] ?? 0;
  return {
    image: LANDMARK_NAMES.map((name, index) => ({
      x: joints[jointOf(name)].xPx + value(index, 0),
      y: joints[jointOf(name)].yPx + value(index, 1),
      visibility: clamp(value(index, 2), 0, 1),
    })),
    world: LANDMARK_NAMES.map((_, index) => ({
      x: value(index, 3),
      y: value(index, 4),
      z: value(index, 5),
    })),
  };
}
