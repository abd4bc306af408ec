import type { Joints, JointName } from './skeleton.ts';
import { add, cross, dot, normalise, scale, subtract, toRadians, type Vec3 } from './vector.ts';
import { sideSign, type Side } from './body.ts';

/** How the camera stands, as a person would say it. */
export interface CameraPlacement {
  /** The side of the person that faces the camera. */
  readonly facingSide: Side;
  /** 0 square to the person's side view, positive when the camera stands further to the person's front. */
  readonly yawDeg: number;
  /** Positive when the picture is turned clockwise. */
  readonly rollDeg: number;
  readonly distanceM: number;
  readonly heightM: number;
  /** The point the camera looks at. */
  readonly lookAt: Vec3;
  readonly verticalFieldOfViewDeg: number;
  readonly widthPx: number;
  readonly heightPx: number;
}

/** A pinhole camera: square pixels, no lens distortion, principal point in the middle. */
export interface Camera {
  readonly position: Vec3;
  readonly right: Vec3;
  readonly up: Vec3;
  readonly forward: Vec3;
  readonly focalPx: number;
  readonly widthPx: number;
  readonly heightPx: number;
  readonly verticalFieldOfViewDeg: number;
}

export function createCamera(placement: CameraPlacement): Camera {
  const yaw = toRadians(placement.yawDeg);
  const { distanceM, lookAt } = placement;
  const position: Vec3 = [
    lookAt[0] + distanceM * Math.sin(yaw),
    placement.heightM,
    lookAt[2] + distanceM * Math.cos(yaw) * sideSign(placement.facingSide),
  ];
  const forward = normalise(subtract(lookAt, position));
  const levelRight = normalise(cross(forward, [0, 1, 0]));
  const levelUp = cross(levelRight, forward);
  const roll = toRadians(placement.rollDeg);
  // A picture turned clockwise comes from a camera turned counter-clockwise.
  const right = add(scale(levelRight, Math.cos(roll)), scale(levelUp, Math.sin(roll)));
  const up = add(scale(levelUp, Math.cos(roll)), scale(levelRight, -Math.sin(roll)));
  const focalPx = placement.heightPx / 2 / Math.tan(toRadians(placement.verticalFieldOfViewDeg) / 2);
  const { widthPx, heightPx, verticalFieldOfViewDeg } = placement;
  return { position, right, up, forward, focalPx, widthPx, heightPx, verticalFieldOfViewDeg };
}

/** Pixel place of a point: x to the right and y down from the picture's upper left corner. */
export interface PixelPoint {
  readonly xPx: number;
  readonly yPx: number;
  /** Distance along the viewing direction. */
  readonly depthM: number;
}

export function projectPoint(camera: Camera, point: Vec3): PixelPoint {
  const offset = subtract(point, camera.position);
  const depthM = dot(offset, camera.forward);
  return {
    xPx: camera.widthPx / 2 + (camera.focalPx * dot(offset, camera.right)) / depthM,
    yPx: camera.heightPx / 2 - (camera.focalPx * dot(offset, camera.up)) / depthM,
    depthM,
  };
}

/** Pixel places of all joints of a figure. */
export function projectJoints(camera: Camera, joints: Joints): Record<JointName, PixelPoint> {
  const entries = Object.entries(joints).map(([name, joint]) => [name, projectPoint(camera, joint)]);
  // Object.entries forgets the key type; the keys are exactly those of `joints`.
  return Object.fromEntries(entries) as Record<JointName, PixelPoint>;
}

/** True when the point lies in front of the camera and inside the picture. */
export function isInPicture(camera: Camera, { xPx, yPx, depthM }: PixelPoint): boolean {
  return depthM > 0 && xPx >= 0 && yPx >= 0 && xPx < camera.widthPx && yPx < camera.heightPx;
}
