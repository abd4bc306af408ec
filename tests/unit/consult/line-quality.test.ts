import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  LEFT_OUT,
  limitsOf,
  newQuality,
  stepQuality,
  type LineQuality,
  type LineSample,
} from '../../../src/core/consult/line-quality.ts';

const FINE = {
  availableKbps: 2_500,
  sentKbps: 900,
  isMachineSlow: false,
  lossShare: 0,
  roundTripMs: 40,
  waitingBytes: 0,
};

/** A second each; the rungs that were stood on, in order, with the second at which each was reached. */
function run(
  seconds: number,
  sampleAt: (second: number, state: LineQuality) => Partial<LineSample>,
  state = newQuality(0),
): { state: LineQuality; steps: [second: number, rung: number][] } {
  const steps: [number, number][] = [];
  for (let second = 1; second <= seconds; second++) {
    const next = stepQuality(state, { ...FINE, ...sampleAt(second, state), atSeconds: second });
    if (next.rung !== state.rung) steps.push([second, next.rung]);
    state = next;
  }
  return { state, steps };
}

const leftAfter = ({ state }: ReturnType<typeof run>) => limitsOf(state).left;

describe('what is sent on a poor line', () => {
  it('is everything on a good one, also while the browser still learns what it carries', () => {
    expect(run(60, (second) => ({ availableKbps: second < 8 ? 300 : 2_500 })).steps).toEqual([]);
  });

  it('is everything where the browser learned little because little was sent', () => {
    expect(run(120, () => ({ availableKbps: 300, sentKbps: 90 })).steps).toEqual([]);
  });

  it('is everything where the machine is the one that holds the picture back', () => {
    expect(run(120, () => ({ availableKbps: 300, sentKbps: 290, isMachineSlow: true })).steps).toEqual([]);
  });

  it('loses the picture step by step and then the sound where the figures wait, and never the figures', () => {
    const found = run(60, () => ({ waitingBytes: 6_000 }));
    expect(found.steps).toEqual([
      [3, 1],
      [6, 2],
      [9, 3],
      [12, 4],
    ]);
    expect(limitsOf(found.state)).toEqual({ left: 'picture-and-sound', picture: null, sound: false });
  });

  it('keeps a small picture at 300 kbit/s, and does not swing', () => {
    // What the browser finds of such a line swings by a tenth.
    const found = run(300, (second) => ({ availableKbps: 300 + 30 * Math.sin(second), roundTripMs: 420 }));
    expect(leftAfter(found)).toBe('smaller');
    expect(found.steps.length).toBeLessThanOrEqual(3);
  });

  it('bears 5 % of loss and 200 ms, which are no want of room', () => {
    expect(run(120, () => ({ lossShare: 0.05, roundTripMs: 400 })).steps).toEqual([]);
  });

  it('is not changed by single bad moments', () => {
    expect(run(120, (second) => ({ lossShare: second % 3 === 0 ? 0.5 : 0 })).steps).toEqual([]);
  });

  it('comes back when the line is good again, a rung at a time and not before it was good for a while', () => {
    const found = run(120, (second) => (second <= 12 ? { lossShare: 0.3 } : {}));
    expect(leftAfter(found)).toBe('none');
    const ups = found.steps.filter(([second]) => second > 12).map(([second]) => second);
    expect(ups).toHaveLength(4);
    for (const [index, second] of ups.entries())
      expect(second - (ups[index - 1] ?? 12)).toBeGreaterThanOrEqual(10);
  });

  it('tries a picture that is too much ever more seldom', () => {
    // Without a picture the line is good; with any picture it is overfull.
    const found = run(900, (_second, { rung }) => (rung < 3 ? { lossShare: 0.3 } : {}));
    const tries = found.steps.filter(([, rung], at) => rung < (found.steps[at - 1]?.[1] ?? 0));
    const waits = tries.slice(1).map(([second], at) => second - (tries[at]?.[0] ?? 0));
    expect(waits.length).toBeGreaterThan(3);
    for (const [at, wait] of waits.slice(0, 4).entries())
      expect(wait).toBeGreaterThan(1.5 * (at === 0 ? 5 : (waits[at - 1] ?? 0)));
    expect(tries.length).toBeLessThan(12);
  });

  it('knows nothing of what a line carries where the browser does not say it, and goes by the rest', () => {
    expect(run(60, () => ({ availableKbps: null, lossShare: null, roundTripMs: null })).steps).toEqual([]);
    expect(leftAfter(run(60, () => ({ availableKbps: null, lossShare: 0.4 })))).toBe('picture-and-sound');
  });

  it('whatever comes: one rung at a time, and sound is never left out before the picture', () => {
    const figure = fc.option(fc.double({ min: 0, max: 5_000, noNaN: true }));
    const sample = fc.record({
      availableKbps: figure,
      sentKbps: figure,
      isMachineSlow: fc.boolean(),
      lossShare: fc.option(fc.double({ min: 0, max: 1, noNaN: true })),
      roundTripMs: figure,
      waitingBytes: fc.nat(20_000),
    });
    fc.assert(
      fc.property(fc.array(sample, { maxLength: 200 }), (samples) => {
        let state = newQuality(0);
        for (const [index, each] of samples.entries()) {
          const next = stepQuality(state, { ...each, atSeconds: index + 1 });
          expect(Math.abs(next.rung - state.rung)).toBeLessThanOrEqual(1);
          const { picture, sound, left } = limitsOf(next);
          expect(sound || picture === null).toBe(true);
          expect(LEFT_OUT).toContain(left);
          state = next;
        }
      }),
    );
  });
});
