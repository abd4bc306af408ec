import { describe, expect, it } from 'vitest';
import { MDC95_OVER_SEM, reliability } from '../../yardstick/repeatability/reliability.ts';

/*
 * Six targets, each judged by four: P. E. Shrout, J. L. Fleiss, Psychol Bull 86 (1979) 420-428, table 2, as quoted in the
 * tests of a public statistics package. The paper prints ICC(1,1) as .17; mean squares 11.24 and 6.26. More digits are
 * worked out again from the ratings.
 */
const RATINGS = [
  [9, 2, 5, 8],
  [6, 1, 3, 2],
  [8, 4, 6, 8],
  [7, 1, 2, 6],
  [10, 5, 6, 9],
  [6, 2, 4, 7],
];

/*
 * Two readings of peak flow with each of two meters, l/min: J. M. Bland, D. G. Altman, Lancet 1986;i:307-310, as quoted
 * in the data of public statistics packages. Within-subject standard deviations of 15.31 and 19.91 worked out from them;
 * from memory the paper prints 43.2 and 56.4 as "coefficient of repeatability", twice the root mean square difference.
 */
const LARGE = [
  [494, 490],
  [395, 397],
  [516, 512],
  [434, 401],
  [476, 470],
  [557, 611],
  [413, 415],
  [442, 431],
  [650, 638],
  [433, 429],
  [417, 420],
  [656, 633],
  [267, 275],
  [478, 492],
  [178, 165],
  [423, 372],
  [427, 421],
];
const SMALL = [
  [512, 525],
  [430, 415],
  [520, 508],
  [428, 444],
  [500, 500],
  [600, 625],
  [364, 460],
  [380, 390],
  [658, 642],
  [445, 432],
  [432, 420],
  [626, 605],
  [260, 227],
  [477, 467],
  [259, 268],
  [350, 370],
  [451, 443],
];

describe('reliability of repeated measurements', () => {
  it('gives the published intraclass correlation', () => {
    const of = reliability(RATINGS);
    expect(of?.icc).toBeCloseTo(0.17, 2);
    expect(of?.icc).toBeCloseTo(0.165742, 6);
    expect(of?.sem).toBeCloseTo(Math.sqrt(6.2639), 4);
    expect(of).toMatchObject({ targets: 6, measurements: 24 });
    // Between targets: (11.2417 - 6.2639) / 4.
    expect(of?.betweenSd).toBeCloseTo(Math.sqrt(1.24445), 4);
  });

  it.each([
    ['large', LARGE, 15.31, 43.2],
    ['small', SMALL, 19.91, 56.4],
  ] as const)('gives the scatter within subjects of the %s meter', (_, readings, withinSd, twiceRms) => {
    const sem = reliability(readings)?.sem ?? NaN;
    expect(sem).toBeCloseTo(withinSd, 2);
    // Two readings differ with the root of 2 times the scatter of one.
    expect(Math.abs(2 * Math.SQRT2 * sem - twiceRms)).toBeLessThan(0.15);
  });

  it('takes 2.77 standard errors for a change that is more than chance', () => {
    // J. P. Weir, J Strength Cond Res 19 (2005) 231-240: 1.96 times the square root of 2.
    expect(MDC95_OVER_SEM).toBeCloseTo(2.7719, 3);
    expect(reliability(RATINGS)?.mdc95).toBeCloseTo(2.7719 * 2.50278, 3);
  });

  it('is the same for targets with unequally many repeats, if they scatter alike', () => {
    const of = reliability([
      [0, 2],
      [10, 12, 10, 12],
      [20, 22, 20, 22, 20, 22],
    ]);
    // Within: 2 + 4 + 6 over 12 - 3.
    expect(of?.sem).toBeCloseTo(Math.sqrt(12 / 9), 9);
    expect(of?.icc).toBeGreaterThan(0.97);
  });

  it('says nothing of targets measured once, nor of a single target', () => {
    expect(reliability([[1, 2], [5]])).toBeNull();
    expect(reliability([[1], [2], [3]])).toBeNull();
  });
});
