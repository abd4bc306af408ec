import { describe, expect, it } from 'vitest';
import { TilePace } from '../../../src/core/pose/tile-pace.ts';

function paced(times: readonly number[], upperArmPx: number | null = 50): TilePace {
  const pace = new TilePace(10);
  for (const arrivedSeconds of times) pace.take({ arrivedSeconds, upperArmPx, workMs: 40 });
  return pace;
}
const steady = (from: number, to: number, rateHz: number): number[] =>
  Array.from({ length: Math.round((to - from) * rateHz) }, (_, index) => from + index / rateHz);

describe('the pace of a call’s pictures', () => {
  it('is not known before a few have come', () => {
    expect(new TilePace(10).at(5)).toEqual({
      upperArmPx: null,
      rateHz: null,
      longestPauseSeconds: 0,
      capacityHz: null,
    });
    expect(paced([1, 1.1, 1.2]).at(1.3).rateHz).toBeNull();
  });

  it('is that of the last seconds', () => {
    const { rateHz, upperArmPx, longestPauseSeconds, capacityHz } = paced([
      ...steady(0, 20, 30),
      ...steady(20, 40, 12),
    ]).at(40);
    expect(rateHz).toBeCloseTo(12, 0);
    expect(upperArmPx).toBe(50);
    expect(longestPauseSeconds).toBeCloseTo(1 / 12, 3);
    expect(capacityHz).toBe(25);
  });

  it('holds pauses within, before now, and across the edge of what is looked back at', () => {
    expect(paced([...steady(0, 4, 10), ...steady(6, 9, 10)]).at(9).longestPauseSeconds).toBeCloseTo(2.1, 3);
    expect(paced(steady(0, 4, 10)).at(5.5).longestPauseSeconds).toBeCloseTo(1.6, 3);
    expect(paced(steady(0, 4, 10)).at(30)).toMatchObject({ rateHz: null, longestPauseSeconds: 10 });
  });

  it('knows no size while the arm is not seen, and nothing once it is forgotten', () => {
    const pace = paced(steady(0, 4, 10), null);
    expect(pace.at(4).upperArmPx).toBeNull();
    pace.forget();
    expect(pace.at(4).rateHz).toBeNull();
  });
});
