import { describe, expect, it } from 'vitest';
import {
  addRecent,
  findLastRecent,
  nothingRecent,
  valuesOf,
  type Recent,
} from '../../../src/core/signal/recent.ts';

interface At {
  readonly timeSeconds: number;
}
const at = (timeSeconds: number): At => ({ timeSeconds });
const timesOf = (recent: Recent<At>): number[] => valuesOf(recent).map(({ timeSeconds }) => timeSeconds);

describe('the latest values of a series', () => {
  it('keeps what is young enough, in order, however long the series', () => {
    let recent = nothingRecent<At>();
    for (let second = 0; second < 2000; second += 1) {
      recent = addRecent(recent, [at(second)], second - 9);
      expect(timesOf(recent)).toEqual(
        Array.from({ length: Math.min(10, second + 1) }, (_, k) => second - Math.min(9, second) + k),
      );
    }
    // Memory is let go of, too: far less than the 2000 that were added.
    expect(recent.shared.length).toBeLessThan(600);
  });

  it('leaves a value as it was when two others are made from it', () => {
    const first = addRecent(nothingRecent<At>(), [at(1), at(2)], 0);
    const one = addRecent(first, [at(3)], 0);
    const other = addRecent(first, [at(4)], 2);
    expect(timesOf(first)).toEqual([1, 2]);
    expect(timesOf(one)).toEqual([1, 2, 3]);
    expect(timesOf(other)).toEqual([2, 4]);
    expect(timesOf(addRecent(one, [at(5)], 0))).toEqual([1, 2, 3, 5]);
  });

  it('finds the last value that fulfils a condition among its own only', () => {
    const first = addRecent(nothingRecent<At>(), [at(1), at(2)], 0);
    addRecent(first, [at(3)], 0);
    expect(findLastRecent(first, ({ timeSeconds }) => timeSeconds > 2)).toBeUndefined();
    expect(findLastRecent(first, ({ timeSeconds }) => timeSeconds > 0)).toEqual(at(2));
  });
});
