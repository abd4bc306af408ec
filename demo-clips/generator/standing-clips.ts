import type { Body } from './body.ts';
import { CAMERA, FREE_CURL, ROOM } from './clip-defaults.ts';
import { createStandingCurl, type CurlStyle } from './exercises/free-curl.ts';
import { enterAndStand, leaveAfter } from './exercises/walk.ts';
import type { ClipOutline } from './scenario.ts';

/** Dumbbell curl before a mirror. */
export const MIRROR_CURL: ClipOutline = {
  name: 'free-curl-mirror',
  seed: 501,
  shows:
    'Curl with a dumbbell, six repetitions, in a room with a mirror that shows the person a second time.',
  exercise: 'free-curl',
  side: 'right',
  fps: 30,
  camera: { ...CAMERA, yawDeg: 3 },
  room: {
    ...ROOM,
    wall: 0xb9c4c6,
    floorColour: 0x7d6a58,
    wallTurnDeg: 17,
    furniture: 'plain',
    mirror: { centreX: -0.62, widthM: 0.75 },
  },
  people: [
    {
      body: {
        statureM: 1.79,
        bodyMassIndex: 23.4,
        looks: {
          skin: 0xc58c6a,
          hair: 0x2b1d14,
          hairStyle: 'short',
          shirt: 0x3d5f8f,
          shorts: 0x2f3136,
          shoes: 0xd8d4cc,
          sleeve: 0.52,
          legwear: 0.75,
        },
      },
      perform: (body, random) => createStandingCurl(body, 'right', FREE_CURL, random),
    },
  ],
};

/** Band curl seen from the side and front. */
export const BAND_CURL: ClipOutline = {
  name: 'band-curl-oblique',
  seed: 401,
  shows:
    'Curl against an elastic band, six repetitions, one partial; the camera stands about 25 degrees off.',
  exercise: 'band-curl',
  side: 'left',
  fps: 30,
  camera: {
    ...CAMERA,
    facingSide: 'left',
    yawDeg: 25,
    distanceM: 3.2,
    heightM: 1.25,
    lookAt: [0.05, 0.92, 0],
  },
  room: {
    ...ROOM,
    wall: 0xc4cbd6,
    floorColour: 0xb08d62,
    backWallM: 1.8,
    furniture: 'shelf',
    lightFrom: [1.2, 3, -2.4],
    lightWarmth: 0.8,
  },
  people: [
    {
      body: {
        statureM: 1.62,
        bodyMassIndex: 22.8,
        looks: {
          skin: 0xa8714d,
          hair: 0x1c1512,
          hairStyle: 'bun',
          shirt: 0xd9a441,
          shorts: 0x38304a,
          shoes: 0xe0e0e2,
          sleeve: 0.45,
          legwear: 1.7,
        },
      },
      perform: (body, random) =>
        createStandingCurl(
          body,
          'left',
          {
            ...FREE_CURL,
            plan: { ...FREE_CURL.plan, lowDeg: 18, highDeg: 126, lowerS: [2.7, 3.8], partialIndex: 3 },
            equipment: (side, owner: Body) => ({
              band: { hand: side, anchor: [0.75, 0.1, -0.32 - owner.lengths.shoulderHalfWidth] },
            }),
            forearmRotationDeg: [70, 82],
            shoulderTravelDeg: 7,
          },
          random,
        ),
    },
  ],
};

/** The treated person leaves, another one comes. */
export const WALK: ClipOutline = {
  name: 'walk-out-walk-in',
  seed: 601,
  shows: 'Two curls, then the person walks out of the picture and somebody else walks in and stands there.',
  exercise: 'free-curl',
  side: 'left',
  fps: 30,
  camera: { ...CAMERA, facingSide: 'left', yawDeg: 0, rollDeg: 0, distanceM: 3.2, lookAt: [0, 0.93, 0] },
  room: { ...ROOM, wall: 0xbfae9c, floor: 'carpet', floorColour: 0x84766a, lightFrom: [-1.4, 2.8, -2.2] },
  people: [
    {
      body: {
        statureM: 1.71,
        bodyMassIndex: 24.1,
        looks: {
          skin: 0xdcae8c,
          hair: 0x3a2a1c,
          hairStyle: 'short',
          shirt: 0x7d8790,
          shorts: 0x2b3a57,
          shoes: 0x33363b,
          sleeve: 1.45,
          legwear: 0.8,
        },
      },
      perform: (body, random) => {
        const style: CurlStyle = { ...FREE_CURL, plan: { ...FREE_CURL.plan, count: 2, leadOutS: 0.9 } };
        return leaveAfter(body, createStandingCurl(body, 'left', style, random), 10);
      },
    },
    {
      body: {
        statureM: 1.86,
        bodyMassIndex: 22.2,
        looks: {
          skin: 0x8a5a3c,
          hair: 0x1a1412,
          hairStyle: 'short',
          shirt: 0x9c3f32,
          shorts: 0x1f2226,
          shoes: 0xcfcac0,
          sleeve: 0.5,
          legwear: 1.7,
        },
      },
      perform: (body, random) => enterAndStand(body, 19.5, 24, random),
    },
  ],
};
