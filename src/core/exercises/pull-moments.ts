import { SEGMENT_MASS } from '../kinematics/anthropometry.ts';
import type { PlaneBody, PlanePoint } from '../kinematics/kinematic-frame.ts';
import { toRadians } from '../math/angle.ts';

/** Moments of both arms' muscles together, in body weights times upper-arm lengths. */
export interface PullMoments {
  /** Positive: the flexors hold the elbow. */
  readonly elbow: number;
  /** Positive: the extensors hold the shoulder. */
  readonly shoulder: number;
}

/** A part of the body: its share of the whole weight and where its centre is. */
interface Part {
  readonly weight: number;
  readonly centre: PlanePoint;
}

/**
 * What the muscles of the arms must do so that a body whose feet stand and whose hands hold a bar does not fall: statics
 * in the plane of the body, both sides alike, the floor's reaction through the ankle.
 *
 * Where the hands' force points cannot be seen. It is taken as the smallest that holds the body, which is at a right
 * angle to the line from ankle to hand; a vertical one would often have to exceed the body's weight. That a person pulls
 * so is an assumption without source: with the same movement more can be asked of the shoulder or of the elbow.
 * @param towardsUprightDeg - turn of the force from that direction, from forward to up
 * @returns null when a point of arm, trunk or leg is missing
 */
export function pullMoments(body: PlaneBody, towardsUprightDeg = 0): PullMoments | null {
  const { shoulder, elbow, wrist, hip, knee, ankle, midShoulder, midHip } = body;
  const hand = body.hand ?? wrist;
  if (!shoulder || !elbow || !wrist || !hand || !hip || !knee || !ankle || !midShoulder || !midHip)
    return null;
  const upperArm = part('upperArm', shoulder, elbow);
  const belowElbow = [part('forearm', elbow, wrist), part('hand', hand, hand)];
  const arms = [upperArm, ...belowElbow];
  const trunk: Part = {
    weight: SEGMENT_MASS.trunk.weight,
    centre: between(midHip, midShoulder, SEGMENT_MASS.trunk.centre),
  };
  const whole = [...arms, trunk, part('thigh', hip, knee), part('shank', knee, ankle)];

  const lever = { forward: hand.forward - ankle.forward, up: hand.up - ankle.up };
  const turn = toRadians(towardsUprightDeg);
  // At a right angle to the lever, then turned; its size from the moments about the ankle.
  const direction = {
    forward: lever.up * Math.cos(turn) + lever.forward * Math.sin(turn),
    up: -lever.forward * Math.cos(turn) + lever.up * Math.sin(turn),
  };
  const perDirection = lever.forward * direction.up - lever.up * direction.forward;
  if (perDirection === 0) return null;
  const size = -weightTurn(whole, ankle) / perDirection;
  const force = { forward: size * direction.forward, up: size * direction.up };
  // Turns count from forward to up, the way both joints flex; the muscles make the opposite of what loads them.
  return {
    elbow: -(forceTurn(force, hand, elbow) + weightTurn(belowElbow, elbow)),
    shoulder: forceTurn(force, hand, shoulder) + weightTurn(arms, shoulder),
  };
}

/** Both sides' part of a limb between two points. */
function part(name: keyof typeof SEGMENT_MASS, from: PlanePoint, to: PlanePoint): Part {
  const { weight, centre } = SEGMENT_MASS[name];
  return { weight: 2 * weight, centre: between(from, to, centre) };
}

function between(from: PlanePoint, to: PlanePoint, share: number): PlanePoint {
  return {
    forward: from.forward + share * (to.forward - from.forward),
    up: from.up + share * (to.up - from.up),
  };
}

function forceTurn(force: PlanePoint, at: PlanePoint, about: PlanePoint): number {
  return (at.forward - about.forward) * force.up - (at.up - about.up) * force.forward;
}

function weightTurn(parts: readonly Part[], about: PlanePoint): number {
  return parts.reduce((sum, { weight, centre }) => sum - (centre.forward - about.forward) * weight, 0);
}
