import * as fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { Exercise } from '../../../src/core/exercises/exercise.ts';
import {
  HANDS_FREE,
  isOneHanded,
  stepHandsFree,
  type HandsFreeAction,
  type HandsFreeMoment,
  type HandsFreeWish,
} from '../../../src/core/exercises/hands-free.ts';
import { DEFAULT_THRESHOLDS } from '../../../src/core/exercises/thresholds.ts';
import type { KinematicFrame } from '../../../src/core/kinematics/kinematic-frame.ts';
import { traceSeries, type Posture } from '../../helpers/kinematic-traces.ts';

const ON: HandsFreeWish = { starts: true, ends: true, handPauses: true };
const READY: Readonly<Record<Exercise, Posture>> = {
  hold: { elbowDeg: 88, shoulderDeg: 5 },
  'body-curl': { elbowDeg: 22, shoulderDeg: 75, leanDeg: 35 },
  'band-curl': { elbowDeg: 15, shoulderDeg: 3 },
  'free-curl': { elbowDeg: 12, shoulderDeg: 2 },
};
const EXERCISE_NAMES = Object.keys(READY) as Exercise[];

function filmOf(seconds: number, posture: (timeSeconds: number) => Posture): readonly KinematicFrame[] {
  return traceSeries({ seconds, posture, noiseDeg: 1, pointNoise: 0.01 }).frames;
}

const WATCHING: Omit<HandsFreeMoment, 'frame'> = {
  stage: 'watching',
  isViewGood: true,
  mayBegin: true,
  isHandRaised: false,
  restingSeconds: 0,
  hasWorked: false,
};

/** What happens when, over frames with what is known beside each. */
function actionsOver(
  frames: readonly KinematicFrame[],
  exercise: Exercise,
  facts: (timeSeconds: number) => Partial<HandsFreeMoment> = () => ({}),
  wish = ON,
): [number, HandsFreeAction][] {
  let state = HANDS_FREE;
  return frames.flatMap((frame): [number, HandsFreeAction][] => {
    const moment = { ...WATCHING, frame, ...facts(frame.timeSeconds) };
    const next = stepHandsFree(state, moment, { exercise, thresholds: DEFAULT_THRESHOLDS, wish });
    state = next.state;
    return next.action === null ? [] : [[frame.timeSeconds, next.action]];
  });
}

describe('a set that starts by itself', () => {
  it.each(EXERCISE_NAMES)('starts a %s after 2 s in its posture, still', (exercise) => {
    const frames = filmOf(4, () => READY[exercise]);
    const [first] = actionsOver(frames, exercise);
    expect(first?.[1]).toBe('start');
    expect(first?.[0]).toBeGreaterThanOrEqual(2);
    expect(first?.[0]).toBeLessThan(2.2);
  });

  it.each([
    ['hold', 'body-curl'],
    ['hold', 'free-curl'],
    ['body-curl', 'free-curl'],
    ['body-curl', 'hold'],
    ['free-curl', 'hold'],
    ['band-curl', 'body-curl'],
  ] as const)('starts no %s in the posture of a %s', (exercise, other) => {
    expect(
      actionsOver(
        filmOf(5, () => READY[other]),
        exercise,
      ),
    ).toEqual([]);
  });

  it.each([
    ['the set-up is not good', { isViewGood: false }],
    ['it may not begin: safety, the bar, a question, the rest', { mayBegin: false }],
    ['a hand is raised', { isHandRaised: true }],
  ] as const)('never starts while %s', (_, facts) => {
    for (const exercise of EXERCISE_NAMES) {
      if ('isHandRaised' in facts && !isOneHanded(exercise)) continue;
      expect(
        actionsOver(
          filmOf(6, () => READY[exercise]),
          exercise,
          () => facts,
        ),
      ).toEqual([]);
    }
  });

  it('counts the 2 s anew from the moment it may begin', () => {
    const frames = filmOf(6, () => READY.hold);
    const [first] = actionsOver(frames, 'hold', (at) => ({ mayBegin: at >= 3 }));
    expect(first?.[0]).toBeGreaterThanOrEqual(5);
  });

  it('does not start where it is switched off', () => {
    expect(
      actionsOver(
        filmOf(5, () => READY.hold),
        'hold',
        undefined,
        { ...ON, starts: false },
      ),
    ).toEqual([]);
  });

  it('never starts unless the 2 s before it were still, in posture, in view and allowed', () => {
    const legs = fc.array(
      fc.record({
        seconds: fc.double({ min: 0.2, max: 4, noNaN: true }),
        to: fc.integer({ min: 0, max: 140 }),
        isViewGood: fc.boolean(),
        mayBegin: fc.boolean(),
      }),
      { minLength: 1, maxLength: 8 },
    );
    const exercises = fc.constantFrom<Exercise>('hold', 'free-curl');
    fc.assert(
      fc.property(legs, exercises, (all, exercise) => {
        const ends = all.reduce<number[]>((sums, { seconds }) => [...sums, (sums.at(-1) ?? 0) + seconds], []);
        const legAt = (at: number): number =>
          Math.max(
            0,
            ends.findIndex((end) => at < end),
          );
        const angleAt = (at: number): number => {
          const index = legAt(at);
          const { to = 0, seconds = 1 } = all[index] ?? {};
          const from = all[index - 1]?.to ?? 0;
          const since = at - (ends[index - 1] ?? 0);
          return from + (to - from) * Math.min(1, (2 * since) / seconds);
        };
        const facts = (at: number): Partial<HandsFreeMoment> => {
          const { isViewGood = false, mayBegin = false } = all[legAt(at)] ?? {};
          return { isViewGood, mayBegin };
        };
        const frames = traceSeries({
          seconds: ends.at(-1) ?? 0,
          posture: (at) => ({ elbowDeg: angleAt(at), shoulderDeg: 2 }),
          noiseDeg: 0,
        }).frames;
        for (const [at] of actionsOver(frames, exercise, facts)) {
          const before = frames.filter(({ timeSeconds }) => timeSeconds > at - 1.95 && timeSeconds <= at);
          const angles = before.map(({ timeSeconds }) => angleAt(timeSeconds));
          expect(Math.max(...angles) - Math.min(...angles)).toBeLessThanOrEqual(10.5);
          for (const { timeSeconds } of before) {
            expect(facts(timeSeconds)).toEqual({ isViewGood: true, mayBegin: true });
            if (exercise === 'hold') expect(Math.abs(angleAt(timeSeconds) - 90)).toBeLessThanOrEqual(15.5);
            else expect(angleAt(timeSeconds)).toBeLessThanOrEqual(45.5);
          }
        }
      }),
      { seed: 6, numRuns: 60 },
    );
  });
});

describe('a set that runs', () => {
  const measuring = { stage: 'measuring', mayBegin: false } as const;

  it('ends when the person has left: a hold after 5 s, repetitions after 10 s without work', () => {
    const frames = filmOf(14, () => READY.hold);
    for (const [exercise, seconds] of [
      ['hold', 5],
      ['free-curl', 10],
    ] as const) {
      const [first] = actionsOver(frames, exercise, (at) => ({
        ...measuring,
        hasWorked: true,
        restingSeconds: at,
      }));
      expect(first?.[1]).toBe('end');
      expect(first?.[0]).toBeGreaterThan(seconds);
      expect(first?.[0]).toBeLessThan(seconds + 0.2);
    }
  });

  it('ends when nobody worked in it and nobody is there any more, not while somebody stands there', () => {
    const unseen = filmOf(14, () => ({ ...READY.hold, unseen: 'nobody' }) as const);
    expect(actionsOver(unseen, 'hold', () => measuring)[0]?.[0]).toBeGreaterThan(10);
    expect(
      actionsOver(
        filmOf(14, () => READY.hold),
        'hold',
        () => measuring,
      ),
    ).toEqual([]);
  });

  it('does not end by itself where that is switched off', () => {
    const gone = (at: number) => ({ ...measuring, hasWorked: true, restingSeconds: at });
    expect(
      actionsOver(
        filmOf(14, () => READY.hold),
        'hold',
        gone,
        { ...ON, ends: false },
      ),
    ).toEqual([]);
  });

  it('is paused by a raised free hand once, and only in standing one-handed exercises', () => {
    for (const exercise of EXERCISE_NAMES) {
      const raised = (at: number) => ({ ...measuring, isHandRaised: at > 1 });
      const actions = actionsOver(
        filmOf(4, () => READY[exercise]),
        exercise,
        raised,
      );
      expect(actions.map(([, action]) => action)).toEqual(isOneHanded(exercise) ? ['pause'] : []);
    }
    expect(isOneHanded('hold') || isOneHanded('body-curl')).toBe(false);
  });

  it('is not paused by a hand that passes the head, nor where that is switched off', () => {
    const passing = (at: number) => ({ ...measuring, isHandRaised: at > 1 && at < 1.6 });
    expect(
      actionsOver(
        filmOf(4, () => READY['free-curl']),
        'free-curl',
        passing,
      ),
    ).toEqual([]);
    const raised = () => ({ ...measuring, isHandRaised: true });
    expect(
      actionsOver(
        filmOf(4, () => READY['free-curl']),
        'free-curl',
        raised,
        { ...ON, handPauses: false },
      ),
    ).toEqual([]);
  });

  it('goes on after a pause by hand in position and still, after a pause by key never by itself', () => {
    const frames = filmOf(5, () => READY['free-curl']);
    const paused = (stage: HandsFreeMoment['stage']) =>
      actionsOver(frames, 'free-curl', () => ({ stage, mayBegin: false })).map(([, action]) => action);
    expect(paused('paused-by-hand')[0]).toBe('resume');
    expect(paused('paused')).toEqual([]);
  });
});
