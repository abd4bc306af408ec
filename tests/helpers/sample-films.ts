import type { PoseFrame } from '../../src/core/pose/pose-frame.ts';
import {
  AVERAGE_BODY,
  NETWORK_NOISE,
  STANDING,
  SyntheticNetwork,
  withPose,
  type Posture,
} from './synthetic-body.ts';

/* Films of the stick body, for records that tests and scenarios are made of. Everything is seeded. */

const RAD = Math.PI / 180;

/** A film of a movement as a network with scatter sees it. rateHz: pictures a second. */
export function film(
  posture: (timeSeconds: number) => Posture,
  seconds: number,
  seed: number,
  rateHz = 30,
): PoseFrame[] {
  return new SyntheticNetwork({ noise: NETWORK_NOISE, seed }).film(posture, seconds, rateHz);
}

/** From 0 to 1 and back within a repetition: bending, a pause at the top, a slower lowering, a pause. */
function bent(phase: number): number {
  const ease = (share: number): number => (1 - Math.cos(Math.PI * share)) / 2;
  if (phase < 0.3) return ease(phase / 0.3);
  if (phase < 0.38) return 1;
  if (phase < 0.9) return 1 - ease((phase - 0.38) / 0.52);
  return 0;
}

/** A vector in the body's plane, seen from the trunk: down along it and ahead of it. */
interface PlaneVector {
  readonly forward: number;
  readonly up: number;
}

/** Leaning back under a bar: hands and feet keep their places, the body comes to the bar. rowShare makes it a row. */
export function bodyCurlPosture(amount: number, rowShare: number): Posture {
  return underBar(12 + (112 - 20 * rowShare) * amount, 70 - rowShare * 88 * amount);
}

/** Leaning back under a bar with these angles of elbow and shoulder: hands and feet keep their places. */
export function underBar(elbowFlexionDeg: number, shoulderFlexionDeg: number): Posture {
  const leanDeg = -55;
  const { statureM, upperArm, forearm, thigh, shank } = AVERAGE_BODY;
  const [sin, cos] = [Math.sin(leanDeg * RAD), Math.cos(leanDeg * RAD)];
  const along = (share: number, deg: number): PlaneVector => {
    const [down, ahead] = [Math.cos(deg * RAD) * share * statureM, Math.sin(deg * RAD) * share * statureM];
    return { forward: -down * sin + ahead * cos, up: -down * cos - ahead * sin };
  };
  const trunk = along(-AVERAGE_BODY.trunk, 0);
  const arm = along(upperArm, shoulderFlexionDeg);
  // The knuckles lie 0.05 of stature beyond the wrist: it is they that stay on the bar.
  const lower = along(forearm + 0.05, shoulderFlexionDeg + elbowFlexionDeg);
  const bar = { forward: -0.1, up: 1.38 };
  const pelvis = {
    forward: bar.forward - trunk.forward - arm.forward - lower.forward,
    up: bar.up - trunk.up - arm.up - lower.up,
  };
  const foot = { forward: 0.62 - pelvis.forward, up: 0.08 - pelvis.up };
  const [a, b] = [thigh * statureM, shank * statureM];
  const reach = Math.min(Math.hypot(foot.forward, foot.up), (a + b) * 0.999);
  const knee = Math.acos((reach ** 2 - a ** 2 - b ** 2) / (2 * a * b));
  const towards = Math.atan2(foot.forward * cos - foot.up * sin, -foot.forward * sin - foot.up * cos);
  const thighRad = towards + Math.asin((b * Math.sin(knee)) / reach);
  return {
    ...STANDING,
    trunkLeanDeg: leanDeg,
    elbowFlexionDeg,
    otherElbowFlexionDeg: elbowFlexionDeg,
    shoulderFlexionDeg,
    hipAngleDeg: 180 - thighRad / RAD,
    kneeFlexionDeg: knee / RAD,
    pelvisForwardM: pelvis.forward,
    pelvisUpM: pelvis.up,
  };
}

/** Repetitions of one length each, with the share of a row and the share of the range of each. */
export function repetitions(
  list: readonly { readonly row?: number; readonly range?: number }[],
  seconds: number,
  posture: (amount: number, row: number) => Posture,
): (timeSeconds: number) => Posture {
  return (timeSeconds) => {
    const place = (timeSeconds - 1.5) / seconds;
    const one = list[Math.floor(place)];
    if (!one || place < 0) return posture(0, 0);
    return posture(bent(place % 1) * (one.range ?? 1), one.row ?? 0);
  };
}

/** The film with nobody in it between two moments. */
export function without(frames: readonly PoseFrame[], fromSeconds: number, toSeconds: number): PoseFrame[] {
  return frames.map((frame) =>
    frame.timeSeconds > fromSeconds && frame.timeSeconds < toSeconds ? withPose(frame, () => null) : frame,
  );
}
