import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { CURVE_POINTS, curveOver, meanCurve, spreadOf } from '../../../src/core/review/compare-curves.ts';
import { compareFigures, type ComparedSide } from '../../../src/core/review/compare-figures.ts';
import type { Repetition } from '../../../src/core/exercises/judgement.ts';
import { measureAndJudge } from '../../../src/core/session/build-session.ts';
import { dayOn, inventedPlan, nextVersion } from '../../helpers/plan-days.ts';
import { curlFilm, sampleHeader } from '../session/sample-session.ts';

const numbers = (...values: number[]): Float64Array => Float64Array.from(values);

describe('a curve over 0 to 100 %', () => {
  it('lies linearly between the frames, by hand', () => {
    // Ten frames a second; the span from 0.1 to 0.3 s: 20 deg at its start, 40 in its middle, 0 at its end.
    const curve = curveOver(numbers(0, 0.1, 0.2, 0.3, 0.4), numbers(0, 20, 40, 0, 90), {
      startSeconds: 0.1,
      endSeconds: 0.3,
    });
    expect(curve).toHaveLength(CURVE_POINTS);
    expect(curve[0]).toBeCloseTo(20);
    expect(curve[25]).toBeCloseTo(30);
    expect(curve[50]).toBeCloseTo(40);
    // Three quarters: half way from 40 down to 0.
    expect(curve[75]).toBeCloseTo(20);
    expect(curve[100]).toBeCloseTo(0);
  });

  it('stays blank over what was not measured and over long gaps, and outside the frames', () => {
    const unmeasured = curveOver(numbers(0, 0.1, 0.2, 0.3, 0.4), numbers(10, 10, NaN, 10, 10), {
      startSeconds: 0,
      endSeconds: 0.4,
    });
    expect([unmeasured[20], unmeasured[30], unmeasured[50], unmeasured[70], unmeasured[80]]).toEqual([
      10,
      null,
      null,
      null,
      10,
    ]);
    const gap = curveOver(numbers(0, 0.1, 0.2, 0.9, 1), numbers(1, 1, 1, 1, 1), {
      startSeconds: 0,
      endSeconds: 1,
    });
    expect([gap[15], gap[50], gap[95]]).toEqual([1, null, 1]);
    expect(curveOver(numbers(0.5, 0.6), numbers(1, 1), { startSeconds: 0, endSeconds: 1 })[0]).toBeNull();
  });

  it('never leaves what its frames say', () => {
    fc.assert(
      fc.property(
        fc.array(fc.double({ min: -50, max: 160, noNaN: true }), { minLength: 2, maxLength: 40 }),
        (values) => {
          const times = Float64Array.from(values, (_, index) => index / 20);
          const curve = curveOver(times, Float64Array.from(values), {
            startSeconds: 0,
            endSeconds: (values.length - 1) / 20,
          });
          for (const value of curve) {
            expect(value).not.toBeNull();
            expect(value ?? NaN).toBeGreaterThanOrEqual(Math.min(...values) - 1e-9);
            expect(value ?? NaN).toBeLessThanOrEqual(Math.max(...values) + 1e-9);
          }
        },
      ),
    );
  });
});

describe('mean and spread', () => {
  it('are those of a sample, by hand', () => {
    // 2, 4, 4, 4, 5, 5, 7, 9: mean 5, squares 32, over n - 1 = 7: 2.138.
    const { mean, sd } = spreadOf([2, 4, 4, 4, 5, 5, 7, 9]);
    expect(mean).toBe(5);
    expect(sd).toBeCloseTo(2.13809, 5);
    expect(spreadOf([3])).toEqual({ mean: 3, sd: null });
  });

  it('are told per cent by per cent, and not where most of the curves were not measured', () => {
    const flat = (value: number | null): (number | null)[] =>
      Array.from({ length: CURVE_POINTS }, () => value);
    const holed = flat(70).map((value, percent) => (percent === 10 ? null : value));
    const three = meanCurve([flat(50), flat(60), holed]);
    expect([three.mean[0], three.sd[0], three.count[0]]).toEqual([60, 10, 3]);
    expect([three.mean[10], three.count[10]]).toEqual([55, 2]);
    const most = meanCurve([flat(null), flat(null), flat(60)]);
    expect([most.mean[0], most.sd[0], most.count[0]]).toEqual([null, null, 1]);
  });
});

const { settings, thresholds } = sampleHeader('body-curl');
const [sample] = measureAndJudge(curlFilm(16), settings, thresholds).findings.judgement.repetitions;

/** A side of so many repetitions alike, with a lowering time and a range. */
function side(
  loweringSeconds: number,
  {
    id = 'a',
    yawDeg = 5 as number | null,
    count = 4,
    change = {} as Partial<ComparedSide>,
    rangeDeg = 100,
  } = {},
): ComparedSide {
  if (sample === undefined) throw new Error('The sample holds no repetition.');
  const repetition: Repetition = {
    ...sample,
    loweringSeconds,
    rangeDeg: { value: rangeDeg, low: rangeDeg - 4, high: rangeDeg + 4 },
  };
  return {
    outline: { id, settings, createdAt: '2026-03-02T18:05:00+01:00' },
    yawDegs: [yawDeg],
    holds: [],
    repetitions: Array.from({ length: count }, () => repetition),
    isSingle: false,
    ...change,
  };
}

const lowering = (
  first: ComparedSide,
  second: ComparedSide,
  days: Parameters<typeof compareFigures>[2] = [],
) => compareFigures(first, second, days).find(({ measure }) => measure === 'lowering');

describe('what changed from one session to another', () => {
  // Least changes of the lowering of a body-moving curl: docs/repeatability.md, 0.19 s with nothing moved, 0.32 s to 20 deg.
  it('counts from the least detectable change of the camera position on', () => {
    const other = { id: 'b' };
    expect(lowering(side(3), side(3.3, other))).toMatchObject({
      verdict: 'no-change',
      limit: { value: 0.32 },
    });
    expect(lowering(side(3), side(3.4, other))).toMatchObject({ verdict: 'more' });
    expect(lowering(side(3), side(2.6, other))).toMatchObject({ verdict: 'less' });
    expect(lowering(side(3), side(3.4, { id: 'b', yawDeg: 30 }))).toMatchObject({
      verdict: 'no-change',
      limit: { value: 1.08, from: 'table' },
    });
    expect(lowering(side(3), side(3.4, { id: 'b', yawDeg: 55 }))).toMatchObject({ verdict: 'limit-unknown' });
    expect(lowering(side(3), side(3.4, { id: 'b', yawDeg: null }))?.limit?.value).toBe(1.08);
  });

  it('is told more finely within one session, where the camera stayed', () => {
    expect(lowering(side(3), side(3.25))).toMatchObject({ verdict: 'more', limit: { value: 0.19 } });
  });

  it('goes by the person’s own sessions where there are enough', () => {
    const plan = nextVersion(inventedPlan(), { stageKey: 'body-curl' }, '2026-03-01T12:00:00+01:00');
    const days = Array.from({ length: 12 }, (_, index) =>
      dayOn(plan, `03-${String(index + 2).padStart(2, '0')}`, {
        measured: { loweringSeconds: index % 2 ? 3.2 : 3 },
      }),
    );
    // Differences of 0.2 s throughout: standard error 0.2 / sqrt 2, times 1.96 sqrt 2 = 0.392 s.
    const figure = lowering(side(3), side(3.35, { id: 'b' }), days);
    expect(figure?.limit?.from).toBe('own-sessions');
    expect(figure?.limit?.value).toBeCloseTo(0.392, 6);
    expect(figure?.verdict).toBe('no-change');
  });

  it('is not told of a single repetition, of two exercises or of two arms', () => {
    const single = side(4, { id: 'b', change: { isSingle: true } });
    expect(lowering(side(3), single)?.verdict).toBe('single');
    const rightArm = {
      ...sampleHeader('body-curl'),
      id: 'b',
      settings: { ...settings, side: 'right' as const },
    };
    expect(lowering(side(3), side(4, { change: { outline: rightArm } }))?.verdict).toBe('other-arm');
    const band = { ...sampleHeader('band-curl'), id: 'b' };
    expect(lowering(side(3), side(4, { change: { outline: band } }))?.verdict).toBe('other-exercise');
  });

  it('is nothing where one side has no figure', () => {
    const none = side(3, { id: 'b', count: 0 });
    expect(lowering(side(3), none)).toMatchObject({ verdict: 'not-measured', change: null });
  });
});
