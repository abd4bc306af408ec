import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { plotPage } from '../../yardstick/validation/plots/page.ts';
import { drawnPlot } from '../../yardstick/validation/plots/plot-frame.ts';
import type { SetFigures } from '../../yardstick/validation/set-figures.ts';

const tokens = readFileSync(join(import.meta.dirname, '../../../src/ui/common/tokens.css'), 'utf8');

function setOf(movement: SetFigures['movement'], yawBandDeg: number, biasDeg: number): SetFigures {
  const elbow = Array.from({ length: 120 }, (_, i) => {
    const truth = 20 + i;
    const value = truth + biasDeg + (i % 2 === 0 ? 2 : -2);
    return { truth, value, low: value - 6, high: value + 6 };
  });
  return {
    id: `${movement}-${String(yawBandDeg)}`,
    movement,
    yawBandDeg,
    pictures: elbow.length,
    readings: { elbow, shoulder: [], trunk: [], travel: [] },
    elbowByTrueCamera: [],
    networkErrorsDeg: [],
    projectionErrorsDeg: [],
    counts: { trueFull: 1, full: 1, truePartial: 0, partial: 0 },
    hold: movement === 'hold' ? { trueSeconds: 10, seconds: 10.25, byOffsetSeconds: [] } : null,
    lowering: movement === 'hold' ? [] : [{ trueSeconds: 3, seconds: 2.5 }],
    loweringByTrueAngle: [],
    travel: [],
    forearm: [],
    rows:
      movement === 'body-curl'
        ? [
            {
              shoulderWorkShare: 0.75,
              measured: { value: 0.7, low: 0.5, high: 0.9 },
              said: true,
              side: 'right',
              yawBandDeg,
            },
          ]
        : [],
  };
}

const facts = { set: 'developing', model: 'full', rateHz: 30, command: 'npm run validate -- <x>' };
const figures = [
  setOf('standing', 0, 1),
  setOf('standing', 30, -3),
  setOf('hold', 0, 0),
  setOf('body-curl', 15, 40),
];
const page = plotPage(figures, facts, tokens);

describe('page of plots', () => {
  it('needs nothing from elsewhere and runs nothing', () => {
    expect(page).not.toMatch(/<script|https?:|@import|url\((?!#)/);
    expect(page).toContain('npm run validate -- &lt;x&gt;');
  });

  it('names and describes every plot once', () => {
    const plots = page.match(/<svg [^>]*role="img"[^>]*>/g) ?? [];
    const ids = plots.flatMap((plot) => /aria-labelledby="([^"]+)"/.exec(plot)?.[1]?.split(' ') ?? []);
    expect(plots.length).toBe(4 + 3 + 3 + 3 + 1);
    expect(new Set(ids).size).toBe(2 * plots.length);
    for (const id of ids) expect(page.match(new RegExp(`id="${id}"`, 'g')), id).toHaveLength(1);
  });

  it('tells in tables what the plots show', () => {
    expect(page).toContain(
      '<th scope="row">Standing curls</th><th scope="row">30°</th><td>1 of 1</td><td>-3.0',
    );
    expect(page).toMatch(/<td>-0.50<\/td><td>-0.50 to -0.50<\/td><td>0 %<\/td>/);
    expect(page).toMatch(/<th scope="row">70 % to 80 %<\/th><td>1<\/td><td>0<\/td><td>1<\/td><td>0<\/td>/);
  });

  it('says how many points a plot leaves out', () => {
    expect(page).toContain('40 of 40 points lie outside the field.');
    expect(page).toContain('40 outside');
  });

  it('takes the dark colours of the app for dark systems, and only on a screen', () => {
    expect(page).toContain('@media screen and (prefers-color-scheme: dark)');
    expect(() => plotPage(figures, facts, ':root {}')).toThrow(/dark colours/);
  });
});

describe('plot', () => {
  it('puts values where its axes say', () => {
    let at: readonly number[] = [];
    drawnPlot({
      id: 'p',
      title: 't',
      description: 'd',
      x: { low: 0, high: 10, words: 'x' },
      y: { low: -1, high: 1, words: 'y' },
      marks: ({ x, y, left, right }) => {
        at = [
          x(0) - left,
          x(10) - right,
          (x(5) - left) / (right - left),
          y(1) - y(-1),
          y(0) - (y(1) + y(-1)) / 2,
        ];
        return [];
      },
    });
    expect(at[0]).toBe(0);
    expect(at[1]).toBe(0);
    expect(at[2]).toBeCloseTo(0.5, 9);
    expect(at[3]).toBeLessThan(0);
    expect(at[4]).toBeCloseTo(0, 9);
  });
});
