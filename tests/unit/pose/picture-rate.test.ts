import { describe, expect, it } from 'vitest';
import { isDue, isToBeMeasured } from '../../../src/core/pose/picture-rate.ts';
import { seededRandom } from '../../helpers/seeded-random.ts';

/** The times that are measured when all of them come in order. */
function measured(timesSeconds: readonly number[], rateHz: number | null): number[] {
  const kept: number[] = [];
  for (const time of timesSeconds) if (isToBeMeasured(time, kept.at(-1) ?? null, rateHz)) kept.push(time);
  return kept;
}

/** A minute of pictures at a steady rate, their times rounded to milliseconds as many files do. */
function steady(rateHz: number, decimals = 3): number[] {
  return Array.from({ length: Math.floor(60 * rateHz) }, (_, k) => Number((k / rateHz).toFixed(decimals)));
}

describe('which pictures of a clip are measured at 15 a second', () => {
  it.each([
    [30, 15],
    [29.97, 15],
    [25, 15],
    [24, 15],
    [60, 15],
  ])('takes from %f pictures a second %f a second', (rateHz, expectedHz) => {
    for (const decimals of [3, 6]) {
      const kept = measured(steady(rateHz, decimals), 15);
      expect(kept.length / 60).toBeCloseTo(expectedHz, 1);
      expect(new Set(kept.map((time) => Math.floor((time + 0.0005) * 15))).size).toBe(kept.length);
    }
  });

  it('takes every picture of a slower clip, and every one where no rate is wished', () => {
    expect(measured(steady(12), 15)).toHaveLength(720);
    expect(measured(steady(15), 15)).toHaveLength(900);
    expect(measured(steady(30), null)).toHaveLength(1800);
  });

  it('takes the pictures of a steady 30 a second evenly, every second one', () => {
    const kept = measured(steady(30), 15);
    for (let k = 1; k < kept.length; k += 1) expect(kept[k]).toBeCloseTo(k / 15, 2);
  });

  it('measures no bin twice and leaves out none with a picture in it, at any rate that changes', () => {
    const random = seededRandom(7);
    const times = [0];
    while ((times.at(-1) ?? 0) < 60) times.push((times.at(-1) ?? 0) + 0.005 + 0.12 * random());
    const bin = (time: number) => Math.floor((time + 0.0005) * 15);
    expect(measured(times, 15).map(bin)).toEqual([...new Set(times.map(bin))]);
  });

  it('takes the same pictures from the second bin on, wherever one starts', () => {
    const times = steady(29.97);
    const whole = measured(times, 15);
    for (const start of [1, 17, 500]) {
      const [, ...rest] = measured(times.slice(start), 15);
      expect(whole.slice(-rest.length)).toEqual(rest);
    }
  });
});

describe('which pictures of a camera are measured where fewer are wanted', () => {
  /** A minute of a camera whose capture times scatter by up to two milliseconds. */
  function taken(cameraHz: number, stepSeconds: number): number[] {
    const random = seededRandom(3);
    const kept: number[] = [];
    for (let k = 0; k < 60 * cameraHz; k += 1) {
      const time = k / cameraHz + 0.002 * (2 * random() - 1);
      if (isDue(time, kept.at(-1) ?? null, stepSeconds)) kept.push(time);
    }
    return kept;
  }

  it.each([
    [30, 15, 2],
    [30, 20, 2],
    [60, 20, 3],
    [25, 15, 2],
    [60, 30, 2],
    [15, 15, 1],
  ])('%d a second at no more than %d: every %d. one, evenly', (cameraHz, rateHz, every) => {
    const kept = taken(cameraHz, 1 / rateHz);
    expect(kept).toHaveLength(Math.ceil((60 * cameraHz) / every));
    for (let k = 1; k < kept.length; k += 1)
      expect(Math.abs((kept[k] ?? 0) - (kept[k - 1] ?? 0) - every / cameraHz)).toBeLessThan(0.0041);
  });

  it('measures every one where no step is wanted', () => {
    expect(taken(30, 0)).toHaveLength(1800);
  });
});
