import { sideSign, SIDES, type Body, type Side } from '../body.ts';
import type { Skeleton } from '../skeleton.ts';
import {
  add,
  combine,
  mix,
  normalise,
  scale,
  subtract,
  toFrame,
  toRadians,
  type Frame,
  type Vec3,
} from '../vector.ts';
import {
  boundsAround,
  cut,
  ellipsoid,
  roundCone,
  smoothUnion,
  widened,
  type Bounds,
  type Field,
} from './fields.ts';

/** A part to be meshed anew for each posture: its field, where it lies, and the frame both are given in. */
export interface PartShape {
  readonly frame: Frame;
  readonly field: Field;
  readonly bounds: Bounds;
  readonly cellM: number;
}

/** Bare arm from shoulder to wrist, in the plane of the elbow: biceps, triceps, olecranon, tapered forearm. */
export function armShape(body: Body, skeleton: Skeleton, side: Side): PartShape {
  const { lengths, statureM: h } = body;
  const g = body.looks.girth;
  const bend = toRadians(skeleton.posture.arms[side].elbowFlexionDeg);
  const forearm: Vec3 = [Math.sin(bend), -Math.cos(bend), 0];
  const folding: Vec3 = [Math.cos(bend), Math.sin(bend), 0];
  const elbow: Vec3 = [0, -lengths.upperArm, 0];
  const wrist = add(elbow, scale(forearm, lengths.forearm));
  const down = (share: number, ahead: number): Vec3 => [ahead * h, -lengths.upperArm * share, 0];
  const along = (share: number, ahead: number): Vec3 =>
    add(mix(elbow, wrist, share), scale(folding, ahead * h));
  const bulge = 0.004 + 0.004 * Math.sin(bend);
  const olecranon = combine([1, elbow], [-0.0165 * h, folding], [-0.004 * h, forearm]);
  const field = smoothUnion(0.014 * h, [
    roundCone(down(0.02, 0), down(0.55, 0), 0.031 * h * g, 0.0255 * h * g),
    roundCone(down(0.55, 0), elbow, 0.0255 * h * g, 0.0205 * h * g),
    roundCone(down(0.42, bulge), down(0.68, bulge), 0.0225 * h * g, 0.0195 * h * g),
    roundCone(down(0.3, -0.005), down(0.62, -0.004), 0.024 * h * g, 0.0195 * h * g),
    roundCone(elbow, along(0.26, 0), 0.0205 * h * g, 0.0245 * h * g),
    roundCone(along(0.26, 0), along(1, 0), 0.0245 * h * g, 0.0155 * h * g),
    roundCone(along(0.08, 0.003), along(0.42, 0.002), 0.019 * h * g, 0.0195 * h * g),
    roundCone(olecranon, add(olecranon, scale(forearm, 0.03 * h)), 0.0085 * h, 0.007 * h),
    roundCone(along(1, 0), along(1.1, 0), 0.0155 * h * g, 0.0155 * h * g),
  ]);
  // Under the sleeve there is nothing to draw; a bare part starts a little above its end.
  const { sleeve } = body.looks;
  const [from, onward] =
    sleeve <= 1
      ? [down(sleeve - 0.12, 0), [0, 1, 0] as const]
      : [along(sleeve - 1.12, 0), scale(forearm, -1)];
  const bare = cut(field, from, onward);
  const upperEnd = sleeve <= 1 ? [from, elbow, olecranon] : [from];
  const bounds = boundsAround([...upperEnd, along(1.1, 0)], 0.036 * h * g);
  return { frame: skeleton.frames.upperArm[side], field: bare, bounds, cellM: 0.0095 };
}

/** Bare leg from the hip to the ankle. */
export function legShape(body: Body, skeleton: Skeleton, side: Side): PartShape {
  const { statureM: h } = body;
  const g = body.looks.girth;
  const frame = skeleton.frames.trunk;
  const { joints } = skeleton;
  const [hip, knee, ankle] = [
    toFrame(frame, joints[`${side}Hip`]),
    toFrame(frame, joints[`${side}Knee`]),
    toFrame(frame, joints[`${side}Ankle`]),
  ];
  const shankDown = normalise(subtract(ankle, knee));
  const behind: Vec3 = [shankDown[1], -shankDown[0], 0];
  const calf = add(mix(knee, ankle, 0.27), scale(behind, 0.009 * h));
  const field = smoothUnion(0.02 * h, [
    roundCone(hip, mix(hip, knee, 0.5), 0.05 * h * g, 0.044 * h * g),
    roundCone(mix(hip, knee, 0.5), knee, 0.044 * h * g, 0.0295 * h * g),
    roundCone(knee, mix(knee, ankle, 0.3), 0.0295 * h * g, 0.027 * h * g),
    roundCone(mix(knee, ankle, 0.3), ankle, 0.027 * h * g, 0.0175 * h * g),
    roundCone(calf, mix(knee, ankle, 0.6), 0.0285 * h * g, 0.019 * h * g),
  ]);
  const { legwear } = body.looks;
  const long = legwear > 1;
  const from = long ? mix(knee, ankle, legwear - 1.1) : mix(hip, knee, legwear - 0.1);
  const onward = normalise(long ? subtract(knee, ankle) : subtract(hip, knee));
  const bare = cut(field, from, onward);
  const bounds = boundsAround(long ? [from, ankle] : [from, knee, ankle], 0.058 * h * g);
  return { frame, field: bare, bounds, cellM: 0.0135 };
}

/** Shirt: chest and belly, shoulders, sleeves cut square, hem over the hips. The chest widens with the breath. */
export function shirtShape(body: Body, skeleton: Skeleton): PartShape {
  const { lengths, statureM: h } = body;
  const { girth: g, sleeve } = body.looks;
  const frame = skeleton.frames.trunk;
  const top = lengths.trunk;
  const breath = 1 + 0.014 * skeleton.posture.breath;
  const at = (ahead: number, share: number): Vec3 => [ahead * h, top * share, 0];
  const chest = widened(
    smoothUnion(0.03 * h, [
      roundCone(at(0, 0.02), at(0.004, 0.3), 0.056 * h * g, 0.0595 * h * g),
      roundCone(at(0.004, 0.3), at(0.004, 0.72), 0.0595 * h * g, 0.066 * h * g * breath),
      roundCone(at(0.004, 0.72), at(-0.006, 0.93), 0.066 * h * g * breath, 0.044 * h * g),
    ]),
    1.42,
  );
  const parts: Field[] = [chest];
  const corners: Vec3[] = [at(0, 0), at(0, 1.08)];
  for (const side of SIDES) {
    const shoulder = toFrame(frame, skeleton.joints[`${side}Shoulder`]);
    const elbow = toFrame(frame, skeleton.joints[`${side}Elbow`]);
    const wrist = toFrame(frame, skeleton.joints[`${side}Wrist`]);
    const yoke: Vec3 = [-0.008 * h, top * 1.02, sideSign(side) * 0.035 * h];
    parts.push(roundCone(yoke, add(shoulder, [0, -0.004 * h, 0]), 0.032 * h, 0.034 * h * g));
    parts.push(sleeveField(shoulder, elbow, wrist, sleeve, h, g));
    corners.push(shoulder, mix(shoulder, elbow, Math.min(1, sleeve + 0.05)));
    if (sleeve > 1) corners.push(mix(elbow, wrist, sleeve - 0.95));
  }
  const whole = smoothUnion(0.022 * h, parts);
  const field = cut(whole, [0, -0.01 * h, 0], [0, -1, 0]);
  const box = boundsAround(corners, 0.055 * h * g);
  const wide = 0.105 * h * g * 1.05;
  const low: Vec3 = [Math.min(box.low[0], -0.075 * h * g), -0.025 * h, Math.min(box.low[2], -wide)];
  const high: Vec3 = [Math.max(box.high[0], 0.08 * h * g), box.high[1], Math.max(box.high[2], wide)];
  return { frame, field, bounds: { low, high }, cellM: 0.0145 };
}

function sleeveField(shoulder: Vec3, elbow: Vec3, wrist: Vec3, sleeve: number, h: number, g: number): Field {
  const loose = 0.0055 * h;
  const start = 0.0325 * h * g + loose;
  if (sleeve <= 1) {
    const end = mix(shoulder, elbow, sleeve);
    const tube = roundCone(shoulder, mix(shoulder, elbow, sleeve + 0.2), start, 0.0265 * h * g + loose);
    return cut(tube, end, normalise(subtract(elbow, shoulder)));
  }
  const end = mix(elbow, wrist, sleeve - 1);
  const lower = roundCone(
    elbow,
    mix(elbow, wrist, sleeve - 0.85),
    0.0235 * h * g + loose,
    0.02 * h * g + loose,
  );
  return smoothUnion(0.012 * h, [
    roundCone(shoulder, elbow, start, 0.0235 * h * g + loose),
    cut(lower, end, normalise(subtract(wrist, elbow))),
  ]);
}

/** Shorts or trousers: pelvis and both legs, a little wider than the body, cut square below. */
export function legwearShape(body: Body, skeleton: Skeleton): PartShape {
  const { statureM: h } = body;
  const { girth: g, legwear } = body.looks;
  const frame = skeleton.frames.trunk;
  const loose = 0.006 * h;
  const pelvis = ellipsoid([-0.002 * h, 0.012 * h, 0], [0.069 * h * g, 0.08 * h, 0.097 * h * g]);
  const seat = ellipsoid([-0.026 * h, -0.022 * h, 0], [0.05 * h * g, 0.05 * h, 0.075 * h * g]);
  const parts: Field[] = [pelvis, seat];
  const corners: Vec3[] = [[0, 0.09 * h, 0]];
  for (const side of SIDES) {
    const hip = toFrame(frame, skeleton.joints[`${side}Hip`]);
    const knee = toFrame(frame, skeleton.joints[`${side}Knee`]);
    const ankle = toFrame(frame, skeleton.joints[`${side}Ankle`]);
    corners.push(hip, mix(hip, knee, Math.min(1, legwear)));
    const kneeRadius = (legwear > 1 ? 0.034 : 0.04) * h * g + loose;
    const thigh = roundCone(hip, knee, 0.053 * h * g + loose, kneeRadius);
    if (legwear <= 1) {
      parts.push(cut(thigh, mix(hip, knee, legwear), normalise(subtract(knee, hip))));
      continue;
    }
    const end = mix(knee, ankle, legwear - 1);
    const shank = roundCone(knee, ankle, kneeRadius, 0.026 * h * g + loose);
    parts.push(thigh, cut(shank, end, normalise(subtract(ankle, knee))));
    corners.push(end);
  }
  const field = smoothUnion(0.02 * h, parts);
  const box = boundsAround(corners, 0.062 * h * g);
  const low: Vec3 = [Math.min(box.low[0], -0.085 * h * g), box.low[1], Math.min(box.low[2], -0.105 * h * g)];
  const high: Vec3 = [Math.max(box.high[0], 0.08 * h * g), box.high[1], Math.max(box.high[2], 0.105 * h * g)];
  return { frame, field, bounds: { low, high }, cellM: 0.0145 };
}

/** Neck between collar and skull. */
export function neckShape(body: Body, skeleton: Skeleton): PartShape {
  const { lengths, statureM: h } = body;
  const frame = skeleton.frames.trunk;
  const base: Vec3 = [-0.01 * h, lengths.trunk * 0.97, 0];
  const { head } = skeleton.frames;
  const skull = combine([1, head.origin], [-0.016 * h, head.x], [-0.03 * h, head.y]);
  const end = toFrame(frame, skull);
  const field = roundCone(base, end, 0.039 * h, 0.0305 * h);
  return { frame, field, bounds: boundsAround([base, end], 0.046 * h), cellM: 0.012 };
}
