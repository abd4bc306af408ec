import { CAMERA, ROOM } from './clip-defaults.ts';
import { createBodyCurl, createRow, CURL_BAR, ROW_BAR } from './exercises/bar-pull.ts';
import { createHold } from './exercises/hold.ts';
import type { ClipOutline } from './scenario.ts';

/** Hold under a fixed bar. */
export const HOLD: ClipOutline = {
  name: 'hold-drift',
  seed: 101,
  shows: 'Hold near a right angle under a fixed bar; drifts out of the target range once and comes back.',
  exercise: 'hold',
  side: 'right',
  fps: 30,
  camera: { ...CAMERA, yawDeg: 2, distanceM: 3, lookAt: [0.1, 0.92, 0] },
  room: { ...ROOM, wall: 0xd9d2c0, lightFrom: [2.2, 2.8, 1.5] },
  people: [
    {
      body: {
        statureM: 1.68,
        bodyMassIndex: 21.6,
        looks: {
          skin: 0xe3b595,
          hair: 0x6a4526,
          hairStyle: 'bun',
          shirt: 0x8b4050,
          shorts: 0x27303c,
          shoes: 0x46484c,
          sleeve: 0.48,
          legwear: 1.55,
        },
      },
      perform: (body, random) =>
        createHold(
          body,
          {
            hangDeg: 8,
            hangS: 1.5,
            bendS: 1.9,
            holdDeg: 91,
            onTheBar: [
              { toDeg: 89, durationS: 7.2 },
              { toDeg: 65, durationS: 3 },
              { toDeg: 65, durationS: 1.4 },
              { toDeg: 92, durationS: 3 },
              { toDeg: 90, durationS: 4.6 },
            ],
            letGoS: 1.5,
          },
          random,
        ),
    },
  ],
};

/** Body-moving curl done as asked. */
export const STRICT_CURL: ClipOutline = {
  name: 'body-curl-strict',
  seed: 201,
  shows: 'Body-moving curl, five repetitions: hands on a fixed bar, upper arm still against the trunk.',
  exercise: 'body-curl',
  side: 'left',
  fps: 30,
  camera: {
    ...CAMERA,
    facingSide: 'left',
    yawDeg: 5,
    rollDeg: -0.5,
    distanceM: 3.2,
    heightM: 1.05,
    lookAt: [-0.12, 0.88, 0],
  },
  room: {
    ...ROOM,
    wall: 0xa9b3a2,
    floor: 'tiles',
    floorColour: 0x8b8d8f,
    furniture: 'window',
    lightFrom: [-1.8, 3, -2],
    lightWarmth: 0.2,
  },
  people: [
    {
      body: {
        statureM: 1.83,
        bodyMassIndex: 24.8,
        looks: {
          skin: 0x6b4630,
          hair: 0x15110f,
          hairStyle: 'shaved',
          shirt: 0xc9c4b4,
          shorts: 0x4a5a3c,
          shoes: 0x2c2c30,
          sleeve: 0.55,
          legwear: 0.9,
        },
      },
      perform: (body, random) =>
        createBodyCurl(
          body,
          CURL_BAR,
          {
            count: 5,
            lowDeg: 26,
            highDeg: 106,
            leadInS: 1.4,
            leadOutS: 1.2,
            lowerS: [2.6, 3.6],
            shoulderDominant: false,
          },
          random,
        ),
    },
  ],
};

/** Body-moving curl turned into a row. */
export const ROW: ClipOutline = {
  name: 'body-curl-row',
  seed: 301,
  shows:
    'Body-moving curl turned into a row, five repetitions: straight body, the elbow goes behind the trunk.',
  exercise: 'body-curl',
  side: 'right',
  fps: 30,
  camera: { ...CAMERA, yawDeg: 6, distanceM: 3.1, heightM: 1.2, lookAt: [-0.1, 0.85, 0] },
  room: {
    ...ROOM,
    wall: 0xd6c3b4,
    floor: 'carpet',
    floorColour: 0x6d7480,
    furniture: 'shelf',
    lightStrength: 0.8,
  },
  people: [
    {
      body: {
        statureM: 1.74,
        bodyMassIndex: 26.5,
        looks: {
          skin: 0xd9a57f,
          hair: 0x8a8580,
          hairStyle: 'short',
          shirt: 0x4f6f5a,
          shorts: 0x55504a,
          shoes: 0x7a3b32,
          sleeve: 0.5,
          legwear: 0.8,
        },
      },
      perform: (body, random) =>
        createRow(
          body,
          ROW_BAR,
          {
            count: 5,
            lowDeg: 22,
            highDeg: 100,
            leadInS: 1.4,
            leadOutS: 1.2,
            lowerS: [2.5, 3.2],
            shoulderDominant: true,
          },
          random,
        ),
    },
  ],
};
