import type { BodyOutline } from '../body.ts';
import type { SeededRandom } from '../seeded-random.ts';
import { nearColour, varyColour } from './colours.ts';

/** From light to very dark. */
const SKINS = [
  0xf3d6c2, 0xe8bd9d, 0xd9a57f, 0xc58c6a, 0xa8714d, 0x8a5a3c, 0x6b4630, 0x553624, 0x3f281b, 0x2e1c13,
] as const;
const HAIR = [0x15110f, 0x2b1d14, 0x4a3020, 0x7a5230, 0xb08a56, 0xd8c39a, 0x8a8580, 0xc9c6c2] as const;
const CLOTH = [
  0xf0efec, 0xc9c4b4, 0x8b8f95, 0x4a4d52, 0x1d1e22, 0x3d5f8f, 0x22304f, 0x4f6f5a, 0x8b4050, 0xb03a30,
  0xd9a441, 0x7a5c8e, 0xd48fa3, 0x6b4a33, 0x2f8f8a,
] as const;
const SHOES = [0xe0e0e2, 0x2c2c30, 0x46484c, 0x7a3b32, 0x39506e, 0xcfcac0] as const;

/** One shirt in five is nearly of the wall's colour. */
const CAMOUFLAGED = 0.2;

/** A person of any usual stature, build, proportions, skin and clothes, before a wall of the given colour. */
export function drawBody(random: SeededRandom, wall: number): BodyOutline {
  return {
    statureM: random.between(1.5, 1.95),
    bodyMassIndex: random.between(18.5, 33),
    segmentSpreadSd: 0.035,
    looks: {
      skin: varyColour(random.pick(SKINS), 0.06, random),
      hair: random.pick(HAIR),
      hairStyle: random.pick(['short', 'short', 'bun', 'shaved']),
      shirt:
        random.between(0, 1) < CAMOUFLAGED
          ? nearColour(wall, random)
          : varyColour(random.pick(CLOTH), 0.1, random),
      shorts: varyColour(random.pick(CLOTH), 0.1, random),
      shoes: random.pick(SHOES),
      // Long sleeves end along the forearm.
      sleeve: random.pick([random.between(0.35, 0.65), random.between(1.3, 1.7)]),
      legwear: random.pick([random.between(0.6, 0.95), random.between(1.4, 1.8)]),
    },
  };
}
