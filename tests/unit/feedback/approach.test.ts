import { describe, expect, it } from 'vitest';
import {
  approachSteps,
  beginApproach,
  passStep,
  stepApproach,
  stepBack,
  type Approach,
  type ApproachFacts,
} from '../../../src/core/feedback/approach.ts';
import { approachWords } from '../../../src/core/feedback/approach-words.ts';
import { setupAdvice } from '../../../src/core/feedback/setup-advice.ts';
import { EXERCISES, type Exercise } from '../../../src/core/exercises/exercise.ts';
import { notMeasured } from '../../../src/core/kinematics/measured.ts';

const deg = (value: number) => ({ value, low: value - 4, high: value + 4 });
const RANGE = { low: 80, high: 100 };
const GOOD: ApproachFacts = {
  isShown: true,
  advice: { isGood: true, isUsable: true },
  isUnsettled: false,
  elbowFlexionDeg: deg(91),
  target: RANGE,
};

/** The steps with the moment at which each was reached, at five looks a second. */
function walk(
  exercise: Exercise,
  factsAt: (seconds: number, approach: Approach) => Partial<ApproachFacts>,
  untilSeconds: number,
): { readonly steps: readonly [string, number][]; readonly end: Approach } {
  let approach = beginApproach(exercise, 0);
  const steps: [string, number][] = [[approach.step, 0]];
  for (let look = 0; look < untilSeconds * 5; look++) {
    const seconds = look / 5;
    const target = exercise === 'hold' ? RANGE : null;
    const before = approach.step;
    approach = stepApproach(approach, { ...GOOD, target, ...factsAt(seconds, approach) }, seconds);
    if (approach.step !== before) steps.push([approach.step, seconds]);
  }
  return { steps, end: approach };
}

describe('the approach to the first set', () => {
  it.each(EXERCISES)('goes through its steps by itself when all is right: %s', (exercise) => {
    const { steps, end } = walk(exercise, () => ({}), 30);
    expect(steps.map(([step]) => step)).toEqual(approachSteps(exercise));
    expect(end.step).toBe('ready');
  });

  it('confirms a right angle and a light pull before a hold, and no set is ready before', () => {
    expect(approachSteps('hold').slice(-3)).toEqual(['right-angle', 'test-pull', 'ready']);
    expect(walk('hold', () => ({ elbowFlexionDeg: deg(70) }), 120).end.step).toBe('right-angle');
    const unseen = { elbowFlexionDeg: notMeasured('arm-not-seen') };
    expect(walk('hold', () => unseen, 120).end.step).toBe('right-angle');
    const brief = (seconds: number) => ({ elbowFlexionDeg: deg(seconds % 2 < 1.5 ? 90 : 120) });
    expect(walk('hold', brief, 120).end.step).toBe('right-angle');
  });

  it('goes back to the angle when the hand moves in the light pull, and says so', () => {
    const { end, steps } = walk(
      'hold',
      (seconds, { step, sinceSeconds }) => ({
        elbowFlexionDeg: deg(step === 'test-pull' && seconds > sinceSeconds + 2 ? 110 : 91),
      }),
      7,
    );
    expect(steps.map(([step]) => step)).toContain('test-pull');
    expect(end.step).toBe('right-angle');
    expect(end.hasMoved).toBe(true);
  });

  it('takes a view that is only usable after it was talked about, and none that is not', () => {
    const usable = { advice: { isGood: false, isUsable: true } };
    const reached = walk('free-curl', () => usable, 30).steps.find(([step]) => step === 'ready');
    expect(reached?.[1]).toBeGreaterThanOrEqual(8);
    const unusable = { advice: { isGood: false, isUsable: false } };
    expect(walk('free-curl', () => unusable, 120).end.step).toBe('where-to-stand');
    expect(walk('free-curl', () => ({ isUnsettled: true }), 120).end.step).toBe('where-to-stand');
  });

  it('leads back when the person left the view', () => {
    const { end } = walk(
      'hold',
      (seconds) => (seconds > 3 ? { advice: null, elbowFlexionDeg: notMeasured('nobody') } : {}),
      20,
    );
    expect(end.step).toBe('where-to-stand');
  });

  it('waits for the demonstration, which can be passed and gone back to', () => {
    expect(walk('hold', () => ({ isShown: false }), 60).end.step).toBe('what-to-do');
    const passed = passStep(beginApproach('hold', 0), 1);
    expect(passed.step).toBe('where-to-stand');
    expect(stepBack(passed, 2).step).toBe('what-to-do');
  });

  it('says each step in 15 letters at most, and of the angle what to do about it', () => {
    const advice = setupAdvice(
      {
        personFound: true,
        wholeArmInPicture: true,
        armSeen: true,
        trunkInPicture: true,
        legsInPicture: true,
        heightShare: 0.7,
        upperArmPx: 90,
        tooSmall: false,
        yawDeg: 0,
        nearSide: 'treated',
        people: 1,
        brightness: 100,
      },
      'left',
      'hold',
    );
    const wordsAt = (step: Approach['step'], flexionDeg: number | null) =>
      approachWords({
        approach: { ...beginApproach('hold', 0), step },
        settings: { side: 'left', statureCm: 175 },
        advice,
        isStalled: false,
        elbowFlexionDeg: flexionDeg === null ? notMeasured('nobody') : deg(flexionDeg),
        target: RANGE,
        barHeightM: 1.1,
      });
    for (const step of approachSteps('hold'))
      for (const flexionDeg of [null, 60, 90, 120]) {
        const { short, sentence } = wordsAt(step, flexionDeg);
        expect(short.length).toBeLessThanOrEqual(15);
        expect(sentence).toMatch(/\.$/);
      }
    expect(wordsAt('right-angle', 60).short).toBe('Bar higher');
    expect(wordsAt('right-angle', 120).short).toBe('Bar lower');
    expect(wordsAt('right-angle', null).sentence).toContain('110 cm');
    expect(wordsAt('right-angle', 90).sentence).toContain('no effort yet');
  });
});
