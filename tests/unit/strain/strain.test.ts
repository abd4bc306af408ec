import { describe, expect, it } from 'vitest';
import { isHoldKept, strainFigures } from '../../strain/strain-figures.ts';
import { STRAIN_KIND_NAMES, strainSet } from '../../strain/strain-sets.ts';
import { wilsonShare } from '../../strain/wilson.ts';

/** One of each strain: a sample of `npm run strain`, whose seed this is not. */
const SEED = 100_001;

describe('a small sample of the strained sets', () => {
  const figures = STRAIN_KIND_NAMES.map((kind) => strainFigures(strainSet(kind, SEED), SEED));

  it('is counted exactly, full and partial', () => {
    const wrong = figures.filter(({ repetitionsExact }) => repetitionsExact === false);
    expect(wrong.map(({ kind }) => kind)).toEqual([]);
  });

  it('has its holds timed to 0.3 s', () => {
    const wrong = figures.filter(({ holdErrorSeconds: error }) => error !== null && !isHoldKept(error));
    expect(wrong.map(({ kind, holdErrorSeconds }) => [kind, holdErrorSeconds])).toEqual([]);
  });

  it('is counted live as in the record', () => {
    expect(figures.filter(({ liveAgrees }) => !liveAgrees).map(({ kind }) => kind)).toEqual([]);
  });
});

describe('the interval of a share', () => {
  /** Newcombe, Stat. Med. 17 (1998) 857-872, table I, score method: 81 of 263 gives 0.2553 to 0.3662. From memory. */
  it('is that of the score method', () => {
    const { low, high } = wilsonShare(Array.from({ length: 263 }, (_, i) => i < 81));
    expect(low).toBeCloseTo(0.2553, 4);
    expect(high).toBeCloseTo(0.3662, 4);
  });

  it('holds something even where all were hits', () => {
    const { low, high } = wilsonShare([true, true, true]);
    expect(low).toBeLessThan(0.5);
    expect(high).toBe(1);
  });
});
