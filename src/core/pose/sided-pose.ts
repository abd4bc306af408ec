import { otherSide, sidedIndex, landmarkIndex, type Side, type SidedLandmark } from './landmark.ts';
import type { Pose } from './pose-frame.ts';

/** Every landmark that exists on both sides, in the order in which this part of the program goes through them. */
export const SIDED_LANDMARKS = [
  'shoulder',
  'elbow',
  'wrist',
  'pinky',
  'index',
  'thumb',
  'hip',
  'knee',
  'ankle',
  'heel',
  'foot_index',
  'ear',
] as const satisfies readonly SidedLandmark[];

/**
 * A landmark in the treated side's own axes: forward is the picture's horizontal towards the front of a person who
 * stands with the treated side near the camera, up is against the picture's vertical, both in pixels. depth and the
 * two world axes are the network's metric guess, depth away from the camera, in metres.
 */
export interface SidedPoint {
  readonly forward: number;
  readonly up: number;
  readonly visibility: number;
  readonly worldForward: number;
  readonly worldUp: number;
  readonly worldDepth: number;
}

/** A pose told as treated and other side, so that what follows need not know left from right. */
export interface SidedPose {
  readonly treated: Readonly<Record<SidedLandmark, SidedPoint>>;
  readonly other: Readonly<Record<SidedLandmark, SidedPoint>>;
  readonly nose: SidedPoint;
}

const UNSEEN: SidedPoint = { forward: 0, up: 0, visibility: 0, worldForward: 0, worldUp: 0, worldDepth: 0 };

/**
 * A person who stands with the left side near the camera faces picture-left, with the right side near picture-right.
 * So a mirrored picture of the other side gives the same numbers.
 */
function pointAt(pose: Pose, index: number, side: Side, widthPx: number): SidedPoint {
  const image = pose.image[index];
  if (!image) return UNSEEN;
  const world = pose.world[index];
  const sign = side === 'left' ? -1 : 1;
  return {
    forward: side === 'left' ? widthPx - image.x : image.x,
    up: -image.y,
    visibility: image.visibility,
    worldForward: sign * (world?.x ?? 0),
    worldUp: -(world?.y ?? 0),
    worldDepth: world?.z ?? 0,
  };
}

function sideOf(
  pose: Pose,
  ofSide: Side,
  treatedSide: Side,
  widthPx: number,
): Record<SidedLandmark, SidedPoint> {
  const at = (landmark: SidedLandmark): SidedPoint =>
    pointAt(pose, sidedIndex(ofSide, landmark), treatedSide, widthPx);
  return {
    shoulder: at('shoulder'),
    elbow: at('elbow'),
    wrist: at('wrist'),
    pinky: at('pinky'),
    index: at('index'),
    thumb: at('thumb'),
    hip: at('hip'),
    knee: at('knee'),
    ankle: at('ankle'),
    heel: at('heel'),
    foot_index: at('foot_index'),
    ear: at('ear'),
  };
}

/** Tells a pose as treated and other side. */
export function sidedPose(pose: Pose, treatedSide: Side, widthPx: number): SidedPose {
  return {
    treated: sideOf(pose, treatedSide, treatedSide, widthPx),
    other: sideOf(pose, otherSide(treatedSide), treatedSide, widthPx),
    nose: pointAt(pose, landmarkIndex('nose'), treatedSide, widthPx),
  };
}

/** The pose with the named landmarks of both sides exchanged. */
export function exchangeSides(pose: SidedPose, landmarks: readonly SidedLandmark[]): SidedPose {
  const treated = { ...pose.treated };
  const other = { ...pose.other };
  for (const landmark of landmarks) {
    treated[landmark] = pose.other[landmark];
    other[landmark] = pose.treated[landmark];
  }
  return { ...pose, treated, other };
}

/** A place in the treated side's axes, pixels. */
export interface SidedPlace {
  readonly forward: number;
  readonly up: number;
}

/** Distance of two places, in their unit. */
export function distance(a: SidedPlace, b: SidedPlace): number {
  return Math.hypot(a.forward - b.forward, a.up - b.up);
}

/** The middle of two places. */
function middle(a: SidedPlace, b: SidedPlace): SidedPlace {
  return { forward: (a.forward + b.forward) / 2, up: (a.up + b.up) / 2 };
}

/** The trunk in the picture, pixels. */
export interface Trunk {
  /** From the middle of the hips to the middle of the shoulders. */
  readonly forward: number;
  readonly up: number;
  readonly length: number;
  readonly middle: SidedPlace;
}

/** The hip-to-shoulder vector between the sides' middles, its length and its middle, pixels. */
export function trunkOf(pose: SidedPose): Trunk {
  const top = middle(pose.treated.shoulder, pose.other.shoulder);
  const bottom = middle(pose.treated.hip, pose.other.hip);
  const forward = top.forward - bottom.forward;
  const up = top.up - bottom.up;
  return { forward, up, length: Math.hypot(forward, up), middle: middle(top, bottom) };
}
