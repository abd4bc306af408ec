import type { Band, Bar, BodyCurlSetUp, Dumbbell, Equipment } from '../../core/loads/equipment.ts';

/** A kind of equipment. */
export type EquipmentKind = Equipment['kind'];

/** Equipment to be changed to what is really there; invented, and said so on the form while nothing is changed. */
export function newEquipment(kind: EquipmentKind): Equipment {
  switch (kind) {
    case 'bar':
      return NEW_BAR;
    case 'body-curl-set-up':
      return NEW_BODY_CURL;
    case 'band':
      return NEW_BAND;
    case 'dumbbell':
      return NEW_DUMBBELL;
  }
}

const NEW_BAR: Bar = {
  kind: 'bar',
  massKg: 20,
  lengthM: 2.2,
  supportsM: [0.5, 1.7],
  heldDown: [false, false],
  gripsM: [0.9, 1.3],
  supportShape: 'open-above',
};

const NEW_BODY_CURL: BodyCurlSetUp = {
  kind: 'body-curl-set-up',
  barHeightM: 1.3,
  feetForwardM: 0.7,
  hands: 2,
};

const NEW_BAND: Band = {
  kind: 'band',
  restLengthM: 0.6,
  readings: [
    { lengthM: 0.9, forceN: 15 },
    { lengthM: 1.3, forceN: 28 },
  ],
  anchorM: { forward: 0, outward: 0, up: -1.05 },
  leavesHand: 'middle',
  fromForearmAxisM: 0.02,
};

const NEW_DUMBBELL: Dumbbell = { kind: 'dumbbell', massKg: 2 };
