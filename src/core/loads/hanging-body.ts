import { SHOULDER_HEIGHT_OVER_STATURE } from '../kinematics/anthropometry.ts';
import type { PlaneBody, PlanePoint } from '../kinematics/kinematic-frame.ts';
import { toRadians } from '../math/angle.ts';
import { armLengths, type LoadPerson } from './arm-geometry.ts';
import type { BodyCurlSetUp } from './equipment.ts';
import { notKnown, type NotKnown } from './load-figure.ts';
import { CENTRE_OVER_SHOULDER_HEIGHT } from './load-limits.ts';

/** Points of a body that hangs back from a bar on its feet, in its plane; metres or any one length. */
export interface HangingBody {
  readonly feet: PlanePoint;
  readonly hand: PlanePoint;
  readonly shoulder: PlanePoint;
  readonly elbow: PlanePoint;
  readonly centre: PlanePoint;
}

/**
 * The body of a set-up at one elbow angle: straight from feet to shoulders, behind its hands, elbow below the line from
 * shoulder to hand. Forward is where the body faces; the hands are the origin.
 * @returns "out-of-reach" when feet, body and arms cannot meet there
 */
export function bodyAtSetUp(
  setUp: BodyCurlSetUp,
  person: LoadPerson,
  flexionDeg: number,
): HangingBody | NotKnown {
  const { upperArmM, elbowToGripM } = armLengths(person);
  const f = toRadians(flexionDeg);
  const reachM = Math.hypot(upperArmM + elbowToGripM * Math.cos(f), elbowToGripM * Math.sin(f));
  const bodyM = (SHOULDER_HEIGHT_OVER_STATURE * person.statureCm) / 100;
  const hand = { forward: 0, up: 0 };
  const feet = { forward: setUp.feetForwardM, up: -setUp.barHeightM };
  const shoulder = circlesMeetBehind(feet, bodyM, hand, reachM);
  if (shoulder === null) return notKnown('out-of-reach');
  return bodyOf(feet, hand, shoulder, elbowBelow(shoulder, hand, upperArmM, elbowToGripM, f));
}

/**
 * The body of a measured picture, in upper-arm lengths, as the same rigid link on its feet.
 * @returns null when a point was not seen
 */
export function bodyOfPicture({
  ankle,
  hand,
  wrist,
  midShoulder,
  shoulder,
  elbow,
}: PlaneBody): HangingBody | null {
  const grip = hand ?? wrist;
  if (!ankle || !grip || !midShoulder || !shoulder || !elbow) return null;
  // The body's line ends at the middle of the shoulders; the arm's own shoulder is for the arm's line.
  const centre = centreOf(ankle, midShoulder, CENTRE_OVER_SHOULDER_HEIGHT.value);
  return { feet: ankle, hand: grip, shoulder, elbow, centre };
}

/** The same body with its centre of mass at another share of the way from feet to shoulder. */
export function withCentreAt(body: HangingBody, share: number): HangingBody {
  const { feet, centre } = body;
  const scale = share / CENTRE_OVER_SHOULDER_HEIGHT.value;
  const { forward, up } = between(feet, centre);
  return { ...body, centre: { forward: feet.forward + scale * forward, up: feet.up + scale * up } };
}

function bodyOf(feet: PlanePoint, hand: PlanePoint, shoulder: PlanePoint, elbow: PlanePoint): HangingBody {
  return { feet, hand, shoulder, elbow, centre: centreOf(feet, shoulder, CENTRE_OVER_SHOULDER_HEIGHT.value) };
}

/** A point of the line from feet to shoulders, at a share of the way up. */
function centreOf(feet: PlanePoint, shoulder: PlanePoint, share: number): PlanePoint {
  const { forward, up } = between(feet, shoulder);
  return { forward: feet.forward + share * forward, up: feet.up + share * up };
}

/** Where two circles about feet and hand meet, the point further back; null where they do not. */
function circlesMeetBehind(
  feet: PlanePoint,
  bodyM: number,
  hand: PlanePoint,
  reachM: number,
): PlanePoint | null {
  const line = between(feet, hand);
  const apart = Math.hypot(line.forward, line.up);
  if (apart > bodyM + reachM || apart < Math.abs(bodyM - reachM) || apart === 0) return null;
  const along = (bodyM * bodyM - reachM * reachM + apart * apart) / (2 * apart);
  const across = Math.sqrt(Math.max(0, bodyM * bodyM - along * along));
  const [e, n] = [line.forward / apart, line.up / apart];
  const candidates = [1, -1].map((sign) => ({
    forward: feet.forward + along * e - sign * across * n,
    up: feet.up + along * n + sign * across * e,
  }));
  return candidates.reduce((best, point) => (point.forward < best.forward ? point : best));
}

/** The elbow between shoulder and hand that a flexion of f radians makes, turning from forward to up. */
function elbowBelow(
  shoulder: PlanePoint,
  hand: PlanePoint,
  upperArmM: number,
  elbowToGripM: number,
  f: number,
): PlanePoint {
  const toHand = between(shoulder, hand);
  const offset = Math.atan2(elbowToGripM * Math.sin(f), upperArmM + elbowToGripM * Math.cos(f));
  const direction = Math.atan2(toHand.up, toHand.forward) - offset;
  return {
    forward: shoulder.forward + upperArmM * Math.cos(direction),
    up: shoulder.up + upperArmM * Math.sin(direction),
  };
}

/** From one point to another. */
export function between(from: PlanePoint, to: PlanePoint): PlanePoint {
  return { forward: to.forward - from.forward, up: to.up - from.up };
}
