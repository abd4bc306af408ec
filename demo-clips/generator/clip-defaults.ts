import type { CameraPlacement } from './camera.ts';
import type { CurlStyle } from './exercises/free-curl.ts';
import type { Room } from './scenario.ts';

/** A camera at chest height, a few steps to the person's side; each clip changes what differs. */
export const CAMERA: CameraPlacement = {
  facingSide: 'right',
  yawDeg: 4,
  rollDeg: 0.4,
  distanceM: 3.1,
  heightM: 1.15,
  lookAt: [0.05, 0.93, 0],
  verticalFieldOfViewDeg: 37,
  widthPx: 640,
  heightPx: 480,
};

export const ROOM: Room = {
  wall: 0xcfc8ba,
  floor: 'boards',
  floorColour: 0x9a7350,
  backWallM: 1.5,
  wallTurnDeg: 0,
  furniture: 'door',
  mirror: null,
  lightFrom: [1.6, 3, 2.2],
  lightWarmth: 0.5,
  lightStrength: 1,
  noise: 0.012,
};

export const FREE_CURL: CurlStyle = {
  plan: {
    count: 6,
    lowDeg: 13,
    highDeg: 132,
    leadInS: 1.3,
    leadOutS: 1.2,
    lowerS: [2.6, 3.4],
    shoulderDominant: false,
  },
  equipment: (side) => ({ dumbbell: side }),
  forearmRotationDeg: [55, 82],
  shoulderTravelDeg: 9,
  humeralRotationDeg: 6,
};
