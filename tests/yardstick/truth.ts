import { projectJoints, type PixelPoint } from '../../demo-clips/generator/camera.ts';
import { isJointVisible } from '../../demo-clips/generator/occlusion.ts';
import { posePhantom, type PhantomPose, type Scenario } from '../../demo-clips/generator/scenario.ts';
import type { JointName } from '../../demo-clips/generator/skeleton.ts';
import { projectedElbowFlexionDeg, torsoOrigin } from '../../demo-clips/generator/truth.ts';
import { distance, type Vec3 } from '../../demo-clips/generator/vector.ts';
import type { LandmarkName, Side } from '../../src/core/pose/landmark.ts';

/** What is true of the treated person at one moment, by the signs of the measuring page. */
export interface TruthFrame {
  readonly timeSeconds: number;
  readonly elbowFlexionDeg: number;
  readonly shoulderFlexionDeg: number;
  readonly trunkInclinationDeg: number;
  readonly forearmRotationDeg: number;
  /** The treated hand lies in the picture and nothing stands before it. */
  readonly handInView: boolean;
  readonly torsoTravelCm: number;
  /** Where the middle of the shoulders is in the room, metres. */
  readonly midShoulderM: Vec3;
  /** As it appears in the picture: what a faultless tracker would read there. */
  readonly projectedElbowFlexionDeg: number;
}

/** The truth of one moment, and where the true joints are in the picture. */
export interface TrueMoment {
  readonly truth: TruthFrame;
  readonly joints: Readonly<Record<JointName, PixelPoint>>;
  /** Middle of the hips to middle of the shoulders in the picture, pixels. */
  readonly trunkPx: number;
}

/**
 * Gives the truth of any moment of a performance, seconds from its start. What it gives throws an Error for a moment in
 * which the treated person is not in the room.
 */
export function truthOf(scenario: Scenario): (timeSeconds: number) => TrueMoment {
  const origin = torsoOrigin(scenario);
  return (timeSeconds) => {
    const pose = posePhantom(scenario, timeSeconds);
    if (pose === null) throw new Error(`truthOf: nobody is in the room at ${String(timeSeconds)} s.`);
    const joints = projectJoints(scenario.camera, pose.joints);
    const { midShoulder, midHip } = joints;
    return {
      truth: {
        timeSeconds,
        elbowFlexionDeg: pose.elbowFlexionDeg,
        shoulderFlexionDeg: pose.shoulderFlexionDeg,
        trunkInclinationDeg: pose.trunkInclinationDeg,
        forearmRotationDeg: pose.arm.forearmRotationDeg,
        handInView: isHandInView(scenario, pose),
        torsoTravelCm: distance(pose.joints.midShoulder, origin) * 100,
        midShoulderM: pose.joints.midShoulder,
        projectedElbowFlexionDeg: projectedElbowFlexionDeg(scenario, pose),
      },
      joints,
      trunkPx: Math.hypot(midShoulder.xPx - midHip.xPx, midShoulder.yPx - midHip.yPx),
    };
  };
}

/** Whether the treated wrist and the middle of its fist lie in the picture with neither body nor equipment before them. */
export function isHandInView({ camera, outline, people }: Scenario, { skeleton }: PhantomPose): boolean {
  const [{ body, performance }] = people;
  return (['Wrist', 'Grip'] as const).every((joint) =>
    isJointVisible(camera, body, skeleton, performance.equipment, outline.side, joint),
  );
}

/** The figure's joints by the second half of a landmark's name. Eyes and mouth are not kept apart from the nose. */
const SIDED_JOINTS = {
  ear: 'Ear',
  shoulder: 'Shoulder',
  elbow: 'Elbow',
  wrist: 'Wrist',
  pinky: 'Pinky',
  index: 'Index',
  thumb: 'Thumb',
  hip: 'Hip',
  knee: 'Knee',
  ankle: 'Ankle',
  heel: 'Heel',
  foot_index: 'Toe',
} as const;

const sidedJoints = (side: Side): [string, JointName][] =>
  Object.entries(SIDED_JOINTS).map(([landmark, joint]) => [`${side}_${landmark}`, `${side}${joint}`]);

const JOINT_OF: ReadonlyMap<string, JointName> = new Map([...sidedJoints('left'), ...sidedJoints('right')]);

/** The joint or point of the figure that a landmark marks; the nose for eyes and mouth. */
export function jointOf(landmark: LandmarkName): JointName {
  return JOINT_OF.get(landmark) ?? 'nose';
}
