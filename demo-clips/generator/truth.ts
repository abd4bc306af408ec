import { isInPicture, projectJoints, projectPoint } from './camera.ts';
import { posePhantom, poseSkeletons, type PhantomPose, type Scenario } from './scenario.ts';
import type { JointName } from './skeleton.ts';
import type { ClipTruth } from './truth-schema.ts';
import { subtract, toDegrees, type Vec3 } from './vector.ts';

/** The joints whose places are written down and that count as "in the picture". */
export const MAIN_JOINTS = [
  'nose',
  'midShoulder',
  'midHip',
  'leftShoulder',
  'rightShoulder',
  'leftElbow',
  'rightElbow',
  'leftWrist',
  'rightWrist',
  'leftGrip',
  'rightGrip',
  'leftHip',
  'rightHip',
  'leftKnee',
  'rightKnee',
  'leftAnkle',
  'rightAnkle',
] as const satisfies readonly JointName[];

const HOLD_RANGE_DEG = { low: 80, high: 100 } as const;
const HOLD_SPEED_DEG_PER_S = 20;
/** Speed is taken over one period of the tremor, so that trembling is not counted as moving. */
const SPEED_SPAN_S = 0.125;
const HOLD_STEP_S = 1 / 240;

const round = (value: number, digits: number): number => Number(value.toFixed(digits));

/** Events and circumstances of a clip, as its NAME.truth.json states them. */
export function clipTruth(scenario: Scenario): ClipTruth {
  const { outline, camera, people } = scenario;
  const [{ body, performance }] = people;
  const { bar, band } = performance.equipment;
  return {
    clip: outline.name,
    shows: outline.shows,
    generated: true,
    seed: outline.seed,
    exercise: outline.exercise,
    side: outline.side,
    statureCm: round(body.statureM * 100, 1),
    bodyMassKg: round(body.massKg, 1),
    cameraYawDeg: outline.camera.yawDeg,
    cameraPitchDeg: round(toDegrees(Math.asin(-camera.forward[1])), 2),
    cameraRollDeg: outline.camera.rollDeg,
    cameraDistanceM: outline.camera.distanceM,
    verticalFieldOfViewDeg: camera.verticalFieldOfViewDeg,
    widthPx: camera.widthPx,
    heightPx: camera.heightPx,
    fps: outline.fps,
    frameCount: scenario.frameCount,
    durationS: round(scenario.durationS, 4),
    repetitions: performance.repetitions.map((repetition) => ({
      startS: round(repetition.startS, 3),
      endS: round(repetition.endS, 3),
      partial: repetition.partial,
      shoulderDominant: repetition.shoulderDominant,
      lowerS: round(repetition.lowerS, 3),
      ...(repetition.shoulderWorkShare === undefined
        ? {}
        : { shoulderWorkShare: round(repetition.shoulderWorkShare, 4) }),
    })),
    holdsInRangeS: outline.exercise === 'hold' ? holdsInRange(scenario) : [],
    segmentLengthsM: {
      upperArm: round(body.lengths.upperArm, 4),
      forearm: round(body.lengths.forearm, 4),
      trunk: round(body.lengths.trunk, 4),
      thigh: round(body.lengths.thigh, 4),
      shank: round(body.lengths.shank, 4),
    },
    barCentreM: bar === undefined ? null : roundPoint(bar.centre),
    bandAnchorM: band === undefined ? null : roundPoint(band.anchor),
    mirror: outline.room.mirror !== null,
    people: people.map((person, index) => ({
      treated: index === 0,
      statureCm: round(person.body.statureM * 100, 1),
      bodyMassKg: round(person.body.massKg, 1),
      inPictureS: timesInPicture(scenario, index),
    })),
  };
}

const roundPoint = (point: readonly [number, number, number]): [number, number, number] => [
  round(point[0], 4),
  round(point[1], 4),
  round(point[2], 4),
];

function holdsInRange(scenario: Scenario): [number, number][] {
  const flexion = (timeS: number): number => posePhantom(scenario, timeS)?.elbowFlexionDeg ?? NaN;
  return intervalsWhere(scenario.durationS, HOLD_STEP_S, (timeS) => {
    const angleDeg = flexion(timeS);
    const speed = (flexion(timeS + SPEED_SPAN_S / 2) - flexion(timeS - SPEED_SPAN_S / 2)) / SPEED_SPAN_S;
    const inRange = angleDeg >= HOLD_RANGE_DEG.low && angleDeg <= HOLD_RANGE_DEG.high;
    return inRange && Math.abs(speed) < HOLD_SPEED_DEG_PER_S;
  });
}

function timesInPicture(scenario: Scenario, index: number): [number, number][] {
  return intervalsWhere(scenario.durationS, 1 / scenario.outline.fps, (timeS) => {
    const skeleton = poseSkeletons(scenario, timeS)[index] ?? null;
    if (skeleton === null) return false;
    return MAIN_JOINTS.some((name) =>
      isInPicture(scenario.camera, projectPoint(scenario.camera, skeleton.joints[name])),
    );
  });
}

function intervalsWhere(
  durationS: number,
  stepS: number,
  holds: (timeS: number) => boolean,
): [number, number][] {
  const intervals: [number, number][] = [];
  let startS: number | null = null;
  const steps = Math.round(durationS / stepS);
  for (let step = 0; step < steps; step++) {
    const timeS = step * stepS;
    const now = holds(timeS);
    if (now && startS === null) startS = timeS;
    if (!now && startS !== null) {
      intervals.push([round(startS, 3), round(timeS, 3)]);
      startS = null;
    }
  }
  if (startS !== null) intervals.push([round(startS, 3), round(durationS, 3)]);
  return intervals;
}

/** Where the treated person's mid-shoulder is in the first frame: torso travel counts from there. */
export function torsoOrigin(scenario: Scenario): Vec3 {
  const first = posePhantom(scenario, 0);
  if (first === null) throw new Error('The treated person must be in the room when the clip begins.');
  return first.joints.midShoulder;
}

/** Elbow flexion as it appears in the picture, in degrees: what a perfect tracker would measure there. */
export function projectedElbowFlexionDeg(scenario: Scenario, pose: PhantomPose): number {
  const { side } = scenario.outline;
  const pixels = projectJoints(scenario.camera, pose.joints);
  const flat = (name: JointName): [number, number, number] => [pixels[name].xPx, pixels[name].yPx, 0];
  const upper = subtract(flat(`${side}Elbow`), flat(`${side}Shoulder`));
  const lower = subtract(flat(`${side}Wrist`), flat(`${side}Elbow`));
  const across = upper[0] * lower[1] - upper[1] * lower[0];
  return toDegrees(Math.atan2(Math.abs(across), upper[0] * lower[0] + upper[1] * lower[1]));
}
