import { handMoments } from '../exercises/hand-moments.ts';
import type { PlanePoint } from '../kinematics/kinematic-frame.ts';
import { toDegrees } from '../math/angle.ts';
import { forearmWeightMomentNm, type LoadPerson } from './arm-geometry.ts';
import type { BodyCurlSetUp } from './equipment.ts';
import { between, bodyAtSetUp, withCentreAt, type HangingBody } from './hanging-body.ts';
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
