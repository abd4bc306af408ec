import { describe, expect, it } from 'vitest';
import { flexionInPicture } from '../../../src/core/review/hand-angle.ts';
import { unlikeOthers } from '../../../src/core/review/odd-repetitions.ts';
import { judgement } from './sample-review.ts';

const [like] = judgement.repetitions;
if (like === undefined) throw new Error('The sample has no repetition.');
/** Repetitions that are alike but for how long their lowering takes, seconds. */
const lowering = (...seconds: number[]) => seconds.map((loweringSeconds) => ({ ...like, loweringSeconds }));

describe('a repetition unlike the others', () => {
  it('is told when it is far from the median, by the spread of the others', () => {
    expect(unlikeOthers(lowering(3, 3.1, 2.9, 3, 1.2))).toEqual([[], [], [], [], ['lowering']]);
  });

  it('is not told among uneven ones, nor for half a second, nor among three', () => {
    expect(unlikeOthers(lowering(1, 2, 3, 4, 5)).flat()).toEqual([]);
    expect(unlikeOthers(lowering(3, 3, 3, 3, 3.5)).flat()).toEqual([]);
    expect(unlikeOthers(lowering(3, 3, 9)).flat()).toEqual([]);
  });

  it('does not count a partial one for what is usual', () => {
    const partial = { ...like, partial: true, loweringSeconds: 9 };
    expect(unlikeOthers([...lowering(3, 3, 3), partial]).flat()).toEqual([]);
    expect(unlikeOthers([...lowering(3, 3, 3, 3), partial])[4]).toEqual(['lowering']);
  });
});

describe('an angle by hand', () => {
  const at = (x: number, y: number) => ({ x, y });
  it.each([
    ['straight', at(0, 0), at(0, 10), at(0, 30), 0],
    ['a right angle', at(0, 0), at(0, 10), at(7, 10), 90],
    ['bent by sixty', at(0, 0), at(10, 0), at(15, 5 * Math.sqrt(3)), 60],
    ['folded', at(0, 0), at(10, 0), at(0, 0), 180],
  ])('%s', (_, shoulder, elbow, wrist, flexionDeg) => {
    expect(flexionInPicture({ shoulder, elbow, wrist })).toBeCloseTo(flexionDeg, 9);
    expect(flexionInPicture({ shoulder: wrist, elbow, wrist: shoulder })).toBeCloseTo(flexionDeg, 9);
  });
});
