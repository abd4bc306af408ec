import { handMoments } from '../exercises/hand-moments.ts';
import type { PlaneBody, PlanePoint } from '../kinematics/kinematic-frame.ts';
import { SHOULDER_HEIGHT_OVER_STATURE } from '../kinematics/anthropometry.ts';
import { toDegrees, toRadians } from '../math/angle.ts';
import { armLengths, forearmWeightMomentNm, type LoadPerson } from './arm-geometry.ts';
import type { BodyCurlSetUp } from './equipment.ts';
import {
  figureWithDoubts,
  isKnown,
  notKnown,
  type Doubt,
  type EstimatedQuantity,
  type LoadFigure,
  type NotKnown,
} from './load-figure.ts';
import {
  BODY_DOUBT,
  CENTRE_OVER_SHOULDER_HEIGHT,
  FREE_FALL,
  INPUT_DOUBT,
  LARGEST_HAND_SHARE,
} from './load-limits.ts';

/**
 * The three assumptions about the way the hands' force points. Nobody sees it:
 * - perpendicular: at a right angle to the line from feet to hands, the smallest force that holds the body; the same that
 *   the judgement of curl or row assumes. Against lean-back loads that were measured (Melrose & Dawes 2015) it reads 3 to
 *   13 points too low.
 * - along-arm: along the line from hand to shoulder, as a strap would pull; within 5 points of the same loads.
 * - vertical: straight up; fits push-ups, and often cannot hold a body that leans back.
 */
export const FORCE_LINES = ['perpendicular', 'along-arm', 'vertical'] as const;
export type ForceLine = (typeof FORCE_LINES)[number];

/** Points of a body that hangs back from a bar on its feet, in its plane; metres or any one length. */
export interface HangingBody {
  readonly feet: PlanePoint;
  readonly hand: PlanePoint;
  readonly shoulder: PlanePoint;
  readonly elbow: PlanePoint;
  readonly centre: PlanePoint;
}

/** The force that the bar does to the hands under one assumption, in body weights. */
export interface HandsForce {
  /** Size, body weights, both hands together. */
  readonly share: number;
  readonly direction: PlanePoint;
  /** Of the direction from straight up, degrees, positive forward. */
  readonly tiltDeg: number;
  /** Friction over load that the feet need. */
  readonly frictionNeeded: number;
}

/**
 * Force at the hands that holds a rigid body on its feet, from moments about the feet.
 * @returns null when no force on that line holds it, or only one that would lift the feet off the floor
 */
export function handsForce(body: HangingBody, line: ForceLine): HandsForce | null {
  const lever = between(body.feet, body.hand);
  const direction = directionOf(line, body, lever);
  if (direction === null) return null;
  const perForce = lever.forward * direction.up - lever.up * direction.forward;
  const weightTurn = body.centre.forward - body.feet.forward;
  // A force that passes the feet too closely would need no end of size.
  if (Math.abs(perForce) < 1e-6 * (Math.hypot(lever.forward, lever.up) + 1e-9)) return null;
  const share = weightTurn / perForce;
  const onFeet = 1 - share * direction.up;
  if (!(share >= 0 && share <= LARGEST_HAND_SHARE) || !(onFeet > 0)) return null;
  return {
    share: 0 + share,
    direction,
    tiltDeg: toDegrees(Math.atan2(direction.forward, direction.up)),
    frictionNeeded: Math.abs(share * direction.forward) / onFeet,
  };
}

/** Unit vector of the force on the hands: away from the body's fall, upward where there is a choice. */
function directionOf(line: ForceLine, body: HangingBody, lever: PlanePoint): PlanePoint | null {
  if (line === 'vertical') return { forward: 0, up: 1 };
  const along =
    line === 'perpendicular' ? { forward: lever.up, up: -lever.forward } : between(body.shoulder, body.hand);
  const size = Math.hypot(along.forward, along.up);
  return size > 1e-9 ? { forward: along.forward / size, up: along.up / size } : null;
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

/** What a body-moving curl asks at one elbow angle. Forces and moments are of one arm. */
export interface BodyCurlLoad {
  readonly flexionDeg: number;
  readonly body: HangingBody;
  /** Under each assumption; null where it cannot hold the body. */
  readonly forces: Readonly<Record<ForceLine, HandsForce | null>>;
  /** Share of body weight at the hands, all hands together: the smallest force, with the span of the assumptions. */
  readonly handShare: LoadFigure;
  /** Null without a body mass. */
  readonly handForceN: LoadFigure | null;
  readonly feetFriction: LoadFigure;
  /** Positive: the flexors hold the elbow. Null without a body mass. */
  readonly elbowMomentNm: LoadFigure | null;
  /** Positive: the extensors hold the shoulder. Null without a body mass. */
  readonly shoulderMomentNm: LoadFigure | null;
}

interface CurlInput {
  readonly setUp: BodyCurlSetUp;
  readonly person: LoadPerson;
  readonly centreShare: number;
}

const CURL_DOUBTS: readonly Doubt<CurlInput>[] = [
  (input, sign) => ({
    ...input,
    setUp: { ...input.setUp, barHeightM: input.setUp.barHeightM + sign * INPUT_DOUBT.bodyPlaceM },
  }),
  (input, sign) => ({
    ...input,
    setUp: { ...input.setUp, feetForwardM: input.setUp.feetForwardM + sign * INPUT_DOUBT.bodyPlaceM },
  }),
  (input, sign) => ({
    ...input,
    centreShare: input.centreShare + sign * CENTRE_OVER_SHOULDER_HEIGHT.halfWidth,
  }),
  (input, sign) => ({
    ...input,
    person: { ...input.person, statureCm: input.person.statureCm * (1 + sign * BODY_DOUBT.lengthShare) },
  }),
];

/**
 * Loads of a body-moving curl at one elbow angle. Values are those of the smallest force (perpendicular), or of the first
 * assumption that can hold the body; least and most span all assumptions that can, and the doubts of the set-up.
 * @returns why there are none
 */
export function bodyCurlLoad(
  setUp: BodyCurlSetUp,
  person: LoadPerson,
  flexionDeg: number,
): BodyCurlLoad | NotKnown {
  const body = bodyAtSetUp(setUp, person, flexionDeg);
  if (!isKnown(body)) return body;
  const forces = forcesOf(body);
  if (FORCE_LINES.every((line) => forces[line] === null)) return notKnown('not-held-by-this-force');
  const weightN = person.bodyMassKg === null ? null : person.bodyMassKg * FREE_FALL;
  const perHand = weightN === null ? null : weightN / setUp.hands;
  const input: CurlInput = { setUp, person, centreShare: CENTRE_OVER_SHOULDER_HEIGHT.value };

  type Pick = (force: HandsForce, at: HangingBody) => number;
  const figure = (of: EstimatedQuantity, pick: Pick): LoadFigure => {
    const figures = FORCE_LINES.flatMap((line) => {
      const evaluate = ({ setUp: moved, person: who, centreShare }: CurlInput): number | null => {
        const placed = bodyAtSetUp(moved, who, flexionDeg);
        if (!isKnown(placed)) return null;
        const at = withCentreAt(placed, centreShare);
        const force = handsForce(at, line);
        return force === null ? null : pick(force, at);
      };
      return figureWithDoubts(evaluate, input, CURL_DOUBTS, of) ?? [];
    });
    return {
      value: figures[0]?.value ?? 0,
      least: Math.min(...figures.map(({ least }) => least)),
      most: Math.max(...figures.map(({ most }) => most)),
      of,
    };
  };
  const ofForce = (of: EstimatedQuantity, pick: Pick): LoadFigure | null =>
    perHand === null ? null : figure(of, pick);
  return {
    flexionDeg,
    body,
    forces,
    handShare: figure('hand-share', ({ share }) => share),
    handForceN: ofForce('hand-force', ({ share }) => share * (perHand ?? 0)),
    feetFriction: figure('feet-friction', ({ frictionNeeded }) => frictionNeeded),
    elbowMomentNm: ofForce('body-curl-elbow-moment', (force, at) =>
      elbowMoment(force, at, perHand ?? 0, person),
    ),
    shoulderMomentNm: ofForce(
      'body-curl-shoulder-moment',
      ({ share, tiltDeg }, { shoulder, elbow, hand }) =>
        share * (perHand ?? 0) * handMoments(shoulder, elbow, hand, tiltDeg).shoulder,
    ),
  };
}

/** The force at the hands under each assumption. */
export function forcesOf(body: HangingBody): Record<ForceLine, HandsForce | null> {
  return {
    perpendicular: handsForce(body, 'perpendicular'),
    'along-arm': handsForce(body, 'along-arm'),
    vertical: handsForce(body, 'vertical'),
  };
}

/** Flexor moment of one arm, newton metres: the hand's force, less what the forearm's own weight does about the elbow. */
function elbowMoment(
  { share, tiltDeg }: HandsForce,
  { shoulder, elbow, hand }: HangingBody,
  perHandN: number,
  person: LoadPerson,
): number {
  const byHand = share * perHandN * handMoments(shoulder, elbow, hand, tiltDeg).elbow;
  const forearm = between(elbow, hand);
  // The hanging forearm's moment is largest level; here its lever is what lies level of this forearm.
  const levelShare = forearm.forward / (Math.hypot(forearm.forward, forearm.up) || 1);
  return byHand + forearmWeightMomentNm(person, 90) * levelShare;
}

function bodyOf(feet: PlanePoint, hand: PlanePoint, shoulder: PlanePoint, elbow: PlanePoint): HangingBody {
  return { feet, hand, shoulder, elbow, centre: centreOf(feet, shoulder, CENTRE_OVER_SHOULDER_HEIGHT.value) };
}

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

function between(from: PlanePoint, to: PlanePoint): PlanePoint {
  return { forward: to.forward - from.forward, up: to.up - from.up };
}
