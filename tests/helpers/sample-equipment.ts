import type { Band, Bar, BodyCurlSetUp, Dumbbell, Equipment } from '../../src/core/loads/equipment.ts';

/** A bar of 20 kg and 2.20 m that rests at its ends, gripped at the right one: half its weight resists there. */
export const BAR_AT_ITS_ENDS: Bar = {
  kind: 'bar',
  massKg: 20,
  lengthM: 2.2,
  supportsM: [0, 2.2],
  heldDown: [false, false],
  gripsM: [2.2],
  supportShape: 'open-above',
};

/** Invented equipment, one of each kind. */
const SAMPLE_BAR: Bar = { ...BAR_AT_ITS_ENDS, supportsM: [0.55, 1.65], gripsM: [2] };

const SAMPLE_BODY_CURL: BodyCurlSetUp = {
  kind: 'body-curl-set-up',
  barHeightM: 1.3,
  feetForwardM: 0.7,
  hands: 2,
  supportShape: 'open-in-front',
};

export const SAMPLE_BAND: Band = {
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
