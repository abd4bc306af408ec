import { describe, expect, it } from 'vitest';
import { createBody } from '../../../demo-clips/generator/body.ts';
import { createPullOfShares } from '../../../demo-clips/generator/exercises/pull-of-shares.ts';
import type { Performance } from '../../../demo-clips/generator/performance.ts';
import { createRandom } from '../../../demo-clips/generator/seeded-random.ts';
import { PLAIN_LOOKS } from '../../helpers/plain-looks.ts';

const plan = { count: 5, lowDeg: 25, highDeg: 104, leadInS: 1, leadOutS: 1, lowerS: [2, 3] } as const;

function pull(seed: number, workShares: readonly number[], towardsWork = 0): Performance {
  const outline = {
    statureM: 1.58 + 0.02 * seed,
    bodyMassIndex: 24,
    looks: PLAIN_LOOKS,
    segmentSpreadSd: 0.03,
  };
  const body = createBody(outline, createRandom(seed));
  const style = { placeOff: { reach: 0, directionDeg: 0 }, plan, workShares, towardsWork, gripOutM: 0 };
  return createPullOfShares(body, style, createRandom(seed));
}

const sharesOf = ({ repetitions }: Performance): number[] =>
  repetitions.map(({ shoulderWorkShare }) => shoulderWorkShare ?? NaN);

describe('a pull of given shares of the work', () => {
  it.each([1, 4, 9])('gives the shoulder of body %i what was asked for, repetition by repetition', (seed) => {
    const asked = [0.2, 0.3, 0.4, 0.5, 0.6];
    sharesOf(pull(seed, asked)).forEach((share, index) => {
      // Each repetition has a range of its own, which moves the share by some hundredths.
      expect(Math.abs(share - (asked[index] ?? NaN))).toBeLessThan(0.1);
    });
  });

  it.each([1, 4, 9])('is within reach of body %i from curl to row at every moment', (seed) => {
    for (const share of [0, 0.5, 1]) {
      const performance = pull(seed, [share, share, share, share, share], 0);
      for (let timeS = 0; timeS < performance.durationS; timeS += 0.25)
        expect(performance.postureAt(timeS)).not.toBeNull();
    }
    expect(Math.max(...sharesOf(pull(seed, [1, 1, 1, 1, 1])))).toBeGreaterThan(0.75);
  });

  it('lets the upper arm go back without work of the shoulder, up to where its work begins', () => {
    const extension = (towardsWork: number): number => {
      const performance = pull(4, [0, 0, 0, 0, 0], towardsWork);
      expect(Math.max(...sharesOf(performance))).toBeLessThan(0.03);
      const [first] = performance.repetitions;
      const flexionAt = (timeS: number): number =>
        performance.postureAt(timeS)?.arms.right.shoulderFlexionDeg ?? NaN;
      return flexionAt(first?.startS ?? NaN) - flexionAt((first?.endS ?? NaN) - (first?.lowerS ?? NaN));
    };
    expect(extension(0)).toBeLessThan(8);
    expect(extension(1)).toBeGreaterThan(20);
  });
});
