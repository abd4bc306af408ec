import type { SeededRandom } from '../seeded-random.ts';

/** Channels of a colour as 0xrrggbb, each times its own factor and kept within what can be shown. */
function scaleChannels(colour: number, factor: () => number): number {
  return [16, 8, 0].reduce((sum, shift) => {
    const channel = Math.round(((colour >> shift) & 255) * factor());
    return sum | (Math.min(255, Math.max(0, channel)) << shift);
  }, 0);
}

/** A colour like the given one; each channel differs by up to the share given. */
export function varyColour(colour: number, share: number, random: SeededRandom): number {
  return scaleChannels(colour, () => random.between(1 - share, 1 + share));
}

/** A colour hardly told from the given one: a little lighter or darker. */
export function nearColour(colour: number, random: SeededRandom): number {
  const factor = random.between(0.92, 1.08);
  return scaleChannels(colour, () => factor);
}
