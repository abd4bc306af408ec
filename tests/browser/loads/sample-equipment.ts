import type { Band, Bar, BodyCurlSetUp, Dumbbell, Equipment } from '../../../src/core/loads/equipment.ts';

/** Invented equipment, one of each kind. */
const SAMPLE_BAR: Bar = {
  kind: 'bar',
  massKg: 20,
  lengthM: 2.2,
  supportsM: [0.55, 1.65],
  heldDown: [false, false],
  gripsM: [2],
  supportShape: 'open-above',
};

const SAMPLE_BODY_CURL: BodyCurlSetUp = {
  kind: 'body-curl-set-up',
  barHeightM: 1.3,
  feetForwardM: 0.7,
  hands: 2,
  supportShape: 'open-in-front',
};

const SAMPLE_BAND: Band = {
  kind: 'band',
  restLengthM: 0.6,
  readings: [
    { lengthM: 0.9, forceN: 18 },
    { lengthM: 1.2, forceN: 30 },
    { lengthM: 1.6, forceN: 42 },
  ],
  anchorM: { forward: 0.2, outward: 0.15, up: -1 },
  leavesHand: 'little-finger-side',
  fromForearmAxisM: 0.05,
};

const SAMPLE_DUMBBELL: Dumbbell = { kind: 'dumbbell', massKg: 3 };

export const SAMPLES: Readonly<Record<Equipment['kind'], Equipment>> = {
  bar: SAMPLE_BAR,
  'body-curl-set-up': SAMPLE_BODY_CURL,
  band: SAMPLE_BAND,
  dumbbell: SAMPLE_DUMBBELL,
};
