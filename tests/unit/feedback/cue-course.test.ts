import { describe, expect, it } from 'vitest';
import type { Exercise } from '../../../src/core/exercises/exercise.ts';
import type { AskedSet } from '../../../src/core/plan/asked-done.ts';
import { cuesOfSet, type TimedCue } from '../../helpers/cue-set.ts';
import { alongLegs, secondsOfLegs, traceSeries, type Leg } from '../../helpers/kinematic-traces.ts';

function cuesOf(
  exercise: Exercise,
  legs: readonly Leg[],
  asked: AskedSet | null = null,
  more: (timeSeconds: number) => object = () => ({}),
): readonly TimedCue[] {
  const elbow = alongLegs(12, legs);
  const { frames } = traceSeries({
    seconds: secondsOfLegs(legs),
    posture: (timeSeconds) => ({ elbowDeg: elbow(timeSeconds), ...more(timeSeconds) }),
    noiseDeg: 0.5,
  });
  return cuesOfSet(frames, exercise, { asked });
}

const names = (cues: readonly TimedCue[]): string[] => cues.map(({ cue }) => cue.name);
const words = (cues: readonly TimedCue[]): string[] => cues.map(({ cue }) => cue.words);
const lowered = (seconds: number): Leg[] => [
  { seconds: 1.5, to: 130 },
  { seconds: 0.4, to: 130 },
  { seconds, to: 12 },
  { seconds: 1.5, to: 12 },
];
const hold = (seconds: number, atDeg = 90): Leg[] => [
  { seconds: 1, to: 12 },
  { seconds: 1.5, to: atDeg },
  { seconds, to: atDeg },
  { seconds: 1.5, to: 12 },
  { seconds: 2, to: 12 },
];

describe('cues of repetitions', () => {
  it('are the numbers alone when nothing is to be corrected', () => {
    const cues = cuesOf('free-curl', [{ seconds: 1, to: 12 }, ...lowered(3), ...lowered(3), ...lowered(3)]);
    expect(words(cues)).toEqual(['1', '2', '3']);
  });

  it('correct a lowering that is too fast, with its time, and praise the first good one after it, once', () => {
    const cues = cuesOf('free-curl', [
      { seconds: 1, to: 12 },
      ...lowered(0.7),
      ...lowered(3),
      ...lowered(3),
      { seconds: 1, to: 12 },
    ]);
    expect(names(cues)).toEqual(['repetition', 'lower-slowly', 'repetition', 'like-that', 'repetition']);
    const why = cues[1]?.cue.why;
    expect(why).toMatchObject({ what: 'lowering-fast', repetition: 1 });
    expect(why?.measured?.value).toBeLessThan(1.2);
  });

  it('do not nag: the same fault six times in half a minute is said two or three times', () => {
    const fast = Array.from({ length: 6 }, () => lowered(0.7)).flat();
    const said = names(cuesOf('free-curl', [{ seconds: 1, to: 12 }, ...fast]));
    const corrections = said.filter((name) => name === 'lower-slowly').length;
    expect(corrections).toBeGreaterThanOrEqual(2);
    expect(corrections).toBeLessThanOrEqual(3);
    expect(said).not.toContain('like-that');
  });

  it('say that the set is done, and from then on ask for nothing more', () => {
    const asked = { amount: 2, unit: 'repetitions', isEasier: false } as const;
    const cues = cuesOf(
      'free-curl',
      [{ seconds: 1, to: 12 }, ...lowered(3), ...lowered(3), ...lowered(0.7)],
      asked,
    );
    expect(names(cues)).toEqual(['repetition', 'set-done']);
  });
});

describe('cues of a hold', () => {
  it('say when it is in the range, the time left, breathe once, and let go', () => {
    const cues = cuesOf('hold', hold(24), { amount: 22, unit: 'seconds', isEasier: false });
    expect(words(cues)).toEqual(['In range', 'Breathe', '10 s left', '5 s left', 'Let go slowly']);
    const at = (name: string): number => cues.find(({ cue }) => cue.name === name)?.timeSeconds ?? NaN;
    expect(at('hold-done') - at('in-range')).toBeGreaterThan(19);
    expect(at('hold-done') - at('in-range')).toBeLessThan(23);
  });

  it('end with letting go, whatever waited to be said just before', () => {
    // Breathing is named after 10 s in the range: at one of these it falls on the very step in which the set is done.
    for (let amount = 10.2; amount <= 11; amount += 0.02) {
      const cues = cuesOf('hold', hold(13), { amount, unit: 'seconds', isEasier: false });
      expect(names(cues).at(-1), `asked ${amount} s`).toBe('hold-done');
    }
  });

  it('lead an elbow that stays out of the range, seldom, and never one that only passes', () => {
    const cues = cuesOf('hold', hold(20, 70));
    expect(names(cues)).toEqual(['bend-more', 'bend-more']);
    expect(cues[0]?.cue.why).toMatchObject({ what: 'too-straight' });
    expect(names(cuesOf('hold', hold(6)))).toEqual(['in-range']);
  });

  it('say ease off when the hand rises, and how far it rose', () => {
    const handShift = (timeSeconds: number): object => ({
      handShift: { forward: 0, up: timeSeconds > 6 ? 0.3 : 0 },
    });
    const cues = cuesOf('hold', hold(8), null, handShift);
    expect(names(cues)).toEqual(['in-range', 'ease-off']);
    expect(cues[1]?.timeSeconds).toBeGreaterThan(6);
    expect(cues[1]?.timeSeconds).toBeLessThan(7);
    expect(cues[1]?.cue.why.measured?.value).toBeGreaterThan(0.12);
  });
});
