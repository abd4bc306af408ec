import { describe, expect, it } from 'vitest';
import { yardstickCases } from '../../../demo-clips/generator/yardstick/cases.ts';
import { seededNormal, seededRandom } from '../../helpers/seeded-random.ts';
import { learnCategories, type Example } from '../../yardstick/forearm/category-classifier.ts';
import { FOREARM_CATEGORIES, forearmCategory } from '../../yardstick/forearm/category.ts';
import { handMoments } from '../../yardstick/forearm/hand-moments.ts';
import { rotationByGeometry, turnShares } from '../../yardstick/forearm/rotation-by-geometry.ts';
import { following, guessByLearning, mostKept, type Guess } from '../../yardstick/forearm/trial.ts';
import { traceOf } from '../../yardstick/trace.ts';
import { imaginedPoses } from './imagined-case.ts';

/** A turning and a still forearm of each side, from palm up to palm down. */
const IDS = ['developing-band-curl-15-04', 'developing-free-curl-30-05', 'developing-free-curl-30-01'];
const cases = yardstickCases('developing').filter(({ id }) => IDS.includes(id));
const moments = cases.flatMap((one) =>
  handMoments(
    one,
    traceOf(
      one,
      imaginedPoses(one, () => ({ x: 0, y: 0 })),
    ),
  ),
);

describe('forearm rotation from a faultless network', () => {
  it('is within a few degrees of the truth by geometry, from palm down to palm up, on both sides', () => {
    expect(new Set(cases.map(({ outline }) => outline.side)).size).toBe(2);
    const truths = moments.map(({ rotationDeg }) => rotationDeg);
    expect(Math.min(...truths)).toBeLessThan(-60);
    expect(Math.max(...truths)).toBeGreaterThan(60);
    for (const moment of moments) {
      const { full } = moment.found;
      const foundDeg = full === undefined ? NaN : rotationByGeometry(moment, full);
      // Perspective, of which the method knows nothing, is what is left.
      expect(Math.abs(foundDeg - moment.rotationDeg), moment.setId).toBeLessThan(12);
    }
  });

  it('shows its cosine and sine by their signs', () => {
    for (const moment of moments.filter(({ rotationDeg }) => Math.abs(rotationDeg) > 20)) {
      const [cosine, sine] = turnShares(moment, moment.truth);
      expect(cosine, moment.setId).toBeGreaterThan(0);
      expect(Math.sign(sine), moment.setId).toBe(Math.sign(moment.rotationDeg));
    }
  });

  it('is followed by the thumb one to one', () => {
    // A trace keeps landmarks in whole steps of a fraction of a pixel.
    expect(following(moments, ({ found }) => found.full)).toBeCloseTo(1, 2);
  });
});

describe('a network that does not see the hand', () => {
  it('leaves the learned category at the most common one', () => {
    const random = seededNormal(5);
    const point = () => ({ x: random(), y: random() });
    const blind = moments.map((moment) => ({
      ...moment,
      found: { full: { knuckles: point(), thumb: point(), length: point() } },
    }));
    expect(Math.abs(following(blind, ({ found }) => found.full))).toBeLessThan(1);
    expect(
      mostKept(
        guessByLearning(blind, ({ found }) => found.full),
        0.9,
      ),
    ).toBe(0);
  });
});

describe('category', () => {
  it('changes half way between two positions', () => {
    expect([-90, -46, -44, 0, 44, 46, 90].map(forearmCategory)).toEqual([
      'palm down',
      'palm down',
      'thumb up',
      'thumb up',
      'thumb up',
      'palm up',
      'palm up',
    ]);
  });
});

describe('learned category', () => {
  const random = seededRandom(3);
  /** Categories that lie a good way apart along one feature; the other says nothing. */
  const apart = Array.from({ length: 300 }, (_, i): Example => {
    const category = i % FOREARM_CATEGORIES.length;
    return { features: [category + 0.6 * (random() - 0.5), random()], category };
  });

  it('is told rightly where the features tell it, with likelihoods that sum to 1', () => {
    const classify = learnCategories(apart);
    const likely = apart.map(({ features }) => classify(features));
    const right = apart.filter(
      ({ category }, i) => likely[i]?.indexOf(Math.max(...(likely[i] ?? []))) === category,
    );
    expect(right.length / apart.length).toBeGreaterThan(0.95);
    for (const each of likely) expect(each.reduce((sum, value) => sum + value, 0)).toBeCloseTo(1, 9);
  });

  it('is as sure as the categories are common where the features say nothing', () => {
    const silent = Array.from({ length: 400 }, (_, i): Example => {
      return { features: [random(), random()], category: i % 4 === 0 ? 0 : 1 };
    });
    const [down = NaN, up = NaN] = learnCategories(silent)([0.5, 0.5]);
    expect(down).toBeCloseTo(0.25, 1);
    expect(up).toBeCloseTo(0.75, 1);
  });
});

describe('share that can be kept', () => {
  const guess = (confidence: number, isRight: boolean): Guess => ({
    setId: 'a',
    yawBandDeg: 0,
    truth: 'palm up',
    said: isRight ? 'palm up' : 'thumb up',
    confidence,
  });

  it('counts the surest first, and none where too few are right', () => {
    const sure = Array.from({ length: 50 }, () => guess(0.95, true));
    const unsure = Array.from({ length: 50 }, (_, i) => guess(0.5, i % 2 === 0));
    expect(mostKept([...unsure, ...sure], 0.9)).toBeCloseTo(0.62, 1);
    expect(mostKept(unsure, 0.9)).toBe(0);
  });
});
