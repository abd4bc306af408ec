import type { Scenario } from '../../../demo-clips/generator/scenario.ts';
import { clamp } from '../../../src/core/math/statistics.ts';
import {
  LANDMARK_NAMES,
  landmarkIndex,
  type LandmarkName,
  type Side,
} from '../../../src/core/pose/landmark.ts';
import type { Pose, PoseFrame } from '../../../src/core/pose/pose-frame.ts';
import { flexionCurve } from '../flexion-curve.ts';
import { trueSides, withExchanged, type TrueSides } from '../label-exchange.ts';
import { jointOf, truthOf, type TrueMoment } from '../truth.ts';

/** Numbers of a landmark: error in x and y, trunk lengths; visibility; error of the world place, metres. */
const VALUES = 6;
/** The network's metric guess does not know how tall a person is: its errors are taken about a body of this stature. */
const GUESSED_STATURE_M = 1.7;

/**
 * What a network misplaced in one set, to be put on another: over true elbow flexion, told as if the treated side were
 * the right one and towards the camera.
 */
export interface NetworkErrors {
  readonly at: (flexionDeg: number) => readonly number[];
  /** Per drawn moment its flexion and what was exchanged there; null where nobody was found. */
  readonly moments: readonly {
    readonly flexionDeg: number;
    readonly exchangedGroups: TrueSides['exchangedGroups'] | null;
  }[];
}

/** The network's errors in a scene from its drawn moments; null where nobody was ever found. */
export function networkErrors(scenario: Scenario, drawn: readonly PoseFrame[]): NetworkErrors | null {
  const truthAt = truthOf(scenario);
  const knots = drawn.map(({ pose, timeSeconds }) => {
    const moment = truthAt(timeSeconds);
    const flexionDeg = moment.truth.elbowFlexionDeg;
    if (pose === null) return { flexionDeg, exchangedGroups: null, values: [] };
    const sides = trueSides(pose, moment);
    return {
      flexionDeg,
      exchangedGroups: sides.exchangedGroups,
      values: errorsOf(sides.pose, moment, scenario),
    };
  });
  const seen = knots.filter(({ exchangedGroups }) => exchangedGroups !== null);
  return seen.length === 0 ? null : { at: flexionCurve(seen), moments: knots };
}

/**
 * What a network would find at any moment of a scene if it erred there as it did in the other: at the same elbow flexion,
 * by as many trunk lengths, on the same side of the body seen from the same side of the camera.
 */
export function transplantedPose(
  errors: NetworkErrors,
  scenario: Scenario,
): (moment: TrueMoment) => Pose | null {
  return (moment) => {
    const { elbowFlexionDeg } = moment.truth;
    const nearest = errors.moments.reduce((best, own) =>
      Math.abs(own.flexionDeg - elbowFlexionDeg) < Math.abs(best.flexionDeg - elbowFlexionDeg) ? own : best,
    );
    if (nearest.exchangedGroups === null) return null;
    return withExchanged(placed(errors.at(elbowFlexionDeg), moment, scenario), nearest.exchangedGroups);
  };
}

/** The landmark that is to a person treated on the right what the given one is to one treated on this side. */
function asRight(name: LandmarkName, side: Side): LandmarkName {
  if (side === 'right') return name;
  return (
    LANDMARK_NAMES.find(
      (other) =>
        (other === name.replace('left_', 'right_') && name.startsWith('left_')) ||
        (other === name.replace('right_', 'left_') && name.startsWith('right_')),
    ) ?? name
  );
}

/** To the picture's right for a person treated on the right, to its left otherwise: towards the person's front. */
const forwardSign = (side: Side): 1 | -1 => (side === 'right' ? 1 : -1);

/** True place of a landmark's joint in the network's axes, metres, of a body of the guessed stature. */
function trueWorld(name: LandmarkName, { joints }: TrueMoment, { camera, people }: Scenario) {
  const place = (joint: keyof TrueMoment['joints']) => {
    const { xPx, yPx, depthM } = joints[joint];
    return {
      x: ((xPx - camera.widthPx / 2) * depthM) / camera.focalPx,
      y: ((yPx - camera.heightPx / 2) * depthM) / camera.focalPx,
      z: depthM,
    };
  };
  const [own, hip] = [place(jointOf(name)), place('midHip')];
  const scale = GUESSED_STATURE_M / people[0].body.statureM;
  return { x: (own.x - hip.x) * scale, y: (own.y - hip.y) * scale, z: (own.z - hip.z) * scale };
}

function errorsOf(pose: Pose, moment: TrueMoment, scenario: Scenario): number[] {
  const { side } = scenario.outline;
  const sign = forwardSign(side);
  return LANDMARK_NAMES.flatMap((role) => {
    const name = asRight(role, side);
    const point = pose.image[landmarkIndex(name)];
    const world = pose.world[landmarkIndex(name)];
    if (point === undefined || world === undefined) throw new Error(`networkErrors: ${name} is missing.`);
    const { xPx, yPx } = moment.joints[jointOf(name)];
    const truth = trueWorld(name, moment, scenario);
    return [
      (sign * (point.x - xPx)) / moment.trunkPx,
      (point.y - yPx) / moment.trunkPx,
      point.visibility,
      sign * (world.x - truth.x),
      world.y - truth.y,
      world.z - truth.z,
    ];
  });
}

function placed(values: readonly number[], moment: TrueMoment, scenario: Scenario): Pose {
  const { side } = scenario.outline;
  const sign = forwardSign(side);
  const valuesOf = (name: LandmarkName): number[] => {
    const first = landmarkIndex(asRight(name, side)) * VALUES;
    return values.slice(first, first + VALUES);
  };
  return {
    image: LANDMARK_NAMES.map((name) => {
      const [forward = 0, down = 0, visibility = 0] = valuesOf(name);
      const { xPx, yPx } = moment.joints[jointOf(name)];
      return {
        x: xPx + sign * forward * moment.trunkPx,
        y: yPx + down * moment.trunkPx,
        visibility: clamp(visibility, 0, 1),
      };
    }),
    world: LANDMARK_NAMES.map((name) => {
      const [, , , x = 0, y = 0, z = 0] = valuesOf(name);
      const truth = trueWorld(name, moment, scenario);
      return { x: truth.x + sign * x, y: truth.y + y, z: truth.z + z };
    }),
  };
}
