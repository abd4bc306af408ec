import { isInPicture, projectJoints } from './camera.ts';
import { isJointVisible, type ArmJoint } from './occlusion.ts';
import { posePhantom, type Scenario } from './scenario.ts';
import { MAIN_JOINTS, projectedElbowFlexionDeg, torsoOrigin } from './truth.ts';
import { distance, type Vec3 } from './vector.ts';

const ARM_JOINTS = ['Shoulder', 'Elbow', 'Wrist'] as const satisfies readonly ArmJoint[];

const snakeCase = (name: string): string => name.replace(/[A-Z]/g, (letter) => `_${letter.toLowerCase()}`);

/** Columns of NAME.truth.csv; the first five are the ones a measurement is compared with. */
const TRUTH_COLUMNS: readonly string[] = [
  'time_s',
  'elbow_flexion_deg',
  'shoulder_flexion_deg',
  'trunk_inclination_deg',
  'torso_travel_cm',
  'forearm_rotation_deg',
  'projected_elbow_flexion_deg',
  ...ARM_JOINTS.map((joint) => `${joint.toLowerCase()}_visible`),
  ...MAIN_JOINTS.flatMap((joint) =>
    ['x_m', 'y_m', 'z_m', 'x_px', 'y_px'].map((unit) => `${snakeCase(joint)}_${unit}`),
  ),
];

/**
 * Truth of every frame of a clip, for the treated person. A row has its time alone (and visibilities of 0) while no
 * part of the treated arm is in the picture.
 */
export function truthCsv(scenario: Scenario): string {
  const lines = [TRUTH_COLUMNS.join(',')];
  const origin = torsoOrigin(scenario);
  for (let frame = 0; frame < scenario.frameCount; frame++)
    lines.push(truthRow(scenario, frame, origin).join(','));
  return `${lines.join('\n')}\n`;
}

function truthRow(scenario: Scenario, frameIndex: number, origin: Vec3): string[] {
  const { camera, outline, people } = scenario;
  const [{ body, performance }] = people;
  const timeS = frameIndex / outline.fps;
  const time = timeS.toFixed(5);
  const pose = posePhantom(scenario, timeS);
  const pixels = pose === null ? null : projectJoints(camera, pose.joints);
  const seen = ARM_JOINTS.some(
    (joint) => pixels !== null && isInPicture(camera, pixels[`${outline.side}${joint}`]),
  );
  if (pose === null || pixels === null || !seen) {
    return TRUTH_COLUMNS.map((column) =>
      column === 'time_s' ? time : column.endsWith('_visible') ? '0' : '',
    );
  }
  const visible = ARM_JOINTS.map((joint) =>
    isJointVisible(camera, body, pose.skeleton, performance.equipment, outline.side, joint) ? '1' : '0',
  );
  return [
    time,
    pose.elbowFlexionDeg.toFixed(3),
    pose.shoulderFlexionDeg.toFixed(3),
    pose.trunkInclinationDeg.toFixed(3),
    (100 * distance(pose.joints.midShoulder, origin)).toFixed(3),
    pose.arm.forearmRotationDeg.toFixed(2),
    projectedElbowFlexionDeg(scenario, pose).toFixed(3),
    ...visible,
    ...MAIN_JOINTS.flatMap((name) => [
      ...pose.joints[name].map((metres) => metres.toFixed(4)),
      pixels[name].xPx.toFixed(2),
      pixels[name].yPx.toFixed(2),
    ]),
  ];
}
