import { createCamera } from '../../../demo-clips/generator/camera.ts';
import type { YardstickCase } from '../../../demo-clips/generator/yardstick/cases.ts';
import { DEFAULT_THRESHOLDS } from '../../../src/core/exercises/thresholds.ts';
import { elbowFlexionDeg } from '../../../src/core/kinematics/geometry.ts';
import type { KinematicFrame } from '../../../src/core/kinematics/kinematic-frame.ts';
import type { LandmarkSource } from '../../../src/core/kinematics/landmark-errors.ts';
import { isMeasured, valueOf, type Measured } from '../../../src/core/kinematics/measured.ts';
import { measureSet } from '../../../src/core/kinematics/measure-set.ts';
import { toDegrees } from '../../../src/core/math/angle.ts';
import { landmarkIndex, type LandmarkName, type Side } from '../../../src/core/pose/landmark.ts';
import type { PoseFrame } from '../../../src/core/pose/pose-frame.ts';
import { measureAndJudge } from '../../../src/core/session/build-session.ts';
import { asStored } from '../../../src/core/session/quantised-frames.ts';
import type { TruthFrame } from '../truth.ts';
import type { YardstickSet } from '../yardstick-set.ts';
import { movementOf, settingsOf, type Movement } from './case-settings.ts';
import { ANGLE_OFFSETS_DEG, heldSeconds, judgedByTrueAngle } from './true-angle.ts';
import { pairsOf, trueTravelCm } from './true-repetitions.ts';

/** A measured value with its interval beside the truth, all in one unit. */
export interface Reading {
  readonly value: number;
  readonly low: number;
  readonly high: number;
  readonly truth: number;
}

/** What is compared picture by picture. */
export type Quantity = 'elbow' | 'shoulder' | 'trunk' | 'travel';

const OF: Readonly<Record<Quantity, (frame: KinematicFrame) => Measured>> = {
  elbow: ({ elbowFlexionDeg: elbow }) => elbow,
  shoulder: ({ shoulderFlexionDeg }) => shoulderFlexionDeg,
  trunk: ({ trunkInclinationDeg }) => trunkInclinationDeg,
  travel: ({ torsoTravelCm }) => torsoTravelCm,
};

const TRUE: Readonly<Record<Quantity, (truth: TruthFrame) => number>> = {
  elbow: ({ elbowFlexionDeg: elbow }) => elbow,
  shoulder: ({ shoulderFlexionDeg }) => shoulderFlexionDeg,
  trunk: ({ trunkInclinationDeg }) => trunkInclinationDeg,
  travel: ({ torsoTravelCm }) => torsoTravelCm,
};

/** What is true of the forearm in a picture in which the hand is in view, and what was said, degrees; null refused. */
export interface ForearmSaying {
  readonly truthDeg: number;
  readonly saidDeg: number | null;
}

/** Everything that one set says of how well it was measured. */
export interface SetFigures {
  readonly id: string;
  readonly movement: Movement;
  readonly yawBandDeg: number;
  readonly pictures: number;
  readonly readings: Readonly<Record<Quantity, readonly Reading[]>>;
  /** The elbow once more, where the chain is told how the camera truly stands. */
  readonly elbowByTrueCamera: readonly Reading[];
  /** Plain angle between the landmarks in the picture less that between the true joints there: the network's part. */
  readonly networkErrorsDeg: readonly number[];
  /** Angle between the true joints in the picture less the true angle: what projection does. */
  readonly projectionErrorsDeg: readonly number[];
  readonly counts: {
    readonly trueFull: number;
    readonly full: number;
    readonly truePartial: number;
    readonly partial: number;
  };
  /** Seconds in the range; null where there is no hold. */
  readonly hold: {
    readonly trueSeconds: number;
    readonly seconds: number;
    /** What judging finds of the true angle when it is read wrong by each of ANGLE_OFFSETS_DEG. */
    readonly byOffsetSeconds: readonly number[];
  } | null;
  /** One for each repetition, where as many were found as there are; empty otherwise. */
  readonly lowering: readonly { readonly trueSeconds: number; readonly seconds: number }[];
  /** The same where judging is given the true angle. */
  readonly loweringByTrueAngle: readonly { readonly trueSeconds: number; readonly seconds: number }[];
  /** Travel of each repetition in centimetres, under the same condition. */
  readonly travel: readonly { readonly trueCm: number; readonly cm: number }[];
  /** Curl or row of each repetition, under the same condition. */
  readonly rows: readonly RowSaying[];
  /** One for each picture in which the hand is in view. */
  readonly forearm: readonly ForearmSaying[];
}

/** A repetition's true share of the shoulder in the work of lifting, and what was measured and said of it. */
export interface RowSaying {
  readonly shoulderWorkShare: number;
  readonly measured: Measured;
  readonly said: boolean | null;
  readonly side: Side;
  readonly yawBandDeg: number;
}

/** A set through the whole chain of the record, from landmarks to judgement, beside its truth. */
export function setFigures(
  drawnCase: YardstickCase,
  set: YardstickSet,
  landmarks: LandmarkSource,
): SetFigures {
  const { outline, exercise } = drawnCase;
  const { series, findings } = measureAndJudge(
    set.frames,
    settingsOf(outline),
    DEFAULT_THRESHOLDS,
    landmarks,
  );
  const { repetitions } = findings.judgement;
  const pairs = pairsOf(set.events.repetitions, repetitions);
  const byTrueAngle = (offsetDeg: number) =>
    judgedByTrueAngle(series, set.truth, settingsOf(outline), offsetDeg);
  const repetitionsByTrueAngle = exercise === 'hold' ? [] : byTrueAngle(0).repetitions;
  return {
    id: drawnCase.id,
    movement: movementOf(drawnCase),
    yawBandDeg: drawnCase.yawBandDeg,
    pictures: set.frames.length,
    readings: {
      elbow: readings('elbow', series.frames, set.truth),
      shoulder: readings('shoulder', series.frames, set.truth),
      trunk: readings('trunk', series.frames, set.truth),
      travel: readings('travel', series.frames, set.truth),
    },
    elbowByTrueCamera: readings('elbow', withTrueCamera(drawnCase, set, landmarks), set.truth),
    networkErrorsDeg: set.frames.flatMap((frame, i) => {
      const [seen, truth] = [pictureAngleDeg(frame, outline.side), set.truth[i]];
      return seen === null || truth === undefined ? [] : [seen - truth.projectedElbowFlexionDeg];
    }),
    projectionErrorsDeg: set.truth.map((truth) => truth.projectedElbowFlexionDeg - truth.elbowFlexionDeg),
    counts: {
      trueFull: set.events.repetitions.filter(({ partial }) => !partial).length,
      full: repetitions.filter(({ partial }) => !partial).length,
      truePartial: set.events.repetitions.filter(({ partial }) => partial).length,
      partial: repetitions.filter(({ partial }) => partial).length,
    },
    hold:
      exercise === 'hold'
        ? {
            trueSeconds: set.events.holdsInRangeSeconds.reduce((sum, [from, to]) => sum + to - from, 0),
            seconds: heldSeconds(findings.judgement),
            byOffsetSeconds: ANGLE_OFFSETS_DEG.map((offsetDeg) => heldSeconds(byTrueAngle(offsetDeg))),
          }
        : null,
    lowering: pairs.map(([truth, found]) => ({ trueSeconds: truth.lowerS, seconds: found.loweringSeconds })),
    loweringByTrueAngle: pairsOf(set.events.repetitions, repetitionsByTrueAngle).map(([truth, found]) => ({
      trueSeconds: truth.lowerS,
      seconds: found.loweringSeconds,
    })),
    travel: pairs.flatMap(([truth, found]) =>
      isMeasured(found.torsoTravelCm)
        ? [{ trueCm: trueTravelCm(truth, set.truth), cm: found.torsoTravelCm.value }]
        : [],
    ),
    rows: pairs.flatMap(([{ shoulderWorkShare }, found]) =>
      shoulderWorkShare === undefined || found.row === null
        ? []
        : [
            {
              shoulderWorkShare,
              measured: found.row.shoulderWorkShare,
              said: found.shoulderDominant,
              side: outline.side,
              yawBandDeg: drawnCase.yawBandDeg,
            },
          ],
    ),
    forearm: series.frames.flatMap(({ forearmRotationDeg }, i) => {
      const truth = set.truth[i];
      return truth?.handInView === true
        ? [{ truthDeg: truth.forearmRotationDeg, saidDeg: valueOf(forearmRotationDeg) }]
        : [];
    }),
  };
}

/** The set measured with the camera's true turn and pitch in place of what the body shows of them. */
function withTrueCamera(
  { outline }: YardstickCase,
  set: YardstickSet,
  landmarks: LandmarkSource,
): readonly KinematicFrame[] {
  const { yawDeg } = outline.camera;
  const pitchDeg = toDegrees(-Math.asin(createCamera(outline.camera).forward[1]));
  const settings = { ...settingsOf(outline), landmarks, camera: { yawDeg, pitchDeg } };
  return measureSet(asStored(set.frames), settings).frames;
}

function readings(
  quantity: Quantity,
  frames: readonly KinematicFrame[],
  truths: readonly TruthFrame[],
): Reading[] {
  return frames.flatMap((frame, i) => {
    const [measured, truth] = [OF[quantity](frame), truths[i]];
    if (truth === undefined || !isMeasured(measured)) return [];
    return [{ ...measured, truth: TRUE[quantity](truth) }];
  });
}

/** The angle between the arm's landmarks as they lie in the picture, degrees of flexion. */
export function pictureAngleDeg({ pose }: PoseFrame, side: Side): number | null {
  const place = (joint: 'shoulder' | 'elbow' | 'wrist') => {
    const name: LandmarkName = `${side}_${joint}`;
    const point = pose?.image[landmarkIndex(name)];
    return point === undefined ? null : { forward: point.x, up: -point.y };
  };
  const [shoulder, elbow, wrist] = [place('shoulder'), place('elbow'), place('wrist')];
  return shoulder && elbow && wrist ? elbowFlexionDeg(shoulder, elbow, wrist) : null;
}
