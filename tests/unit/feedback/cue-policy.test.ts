import { describe, expect, it } from 'vitest';
import * as fc from 'fast-check';
import { EXERCISES } from '../../../src/core/exercises/exercise.ts';
import {
  faultsGone,
  NO_CUES,
  speakingSeconds,
  stepCues,
  type CueState,
  type CueWish,
} from '../../../src/core/feedback/cue-policy.ts';
import { cueInWords, cueRank, CUE_TABLE, interrupts } from '../../../src/core/feedback/cue-table.ts';
import { CUE_NAMES, type CueName } from '../../../src/core/session/cue-log.ts';

const wish = (cue: CueName, value = 3): CueWish => ({
  cue,
  why: { what: 'held', repetition: null, measured: { value, unit: 's' } },
});

type Step = readonly [timeSeconds: number, wishes: readonly CueName[], isSpeaking?: boolean];

/** Gives the wishes at their times and says which cue began when. */
function given(steps: readonly Step[], from: CueState = NO_CUES): [number, CueName][] {
  let state = from;
  return steps.flatMap(([timeSeconds, cues, isSpeaking = false]): [number, CueName][] => {
    const next = stepCues(
      state,
      cues.map((cue) => wish(cue)),
      { timeSeconds, isSpeaking },
    );
    state = next.state;
    return next.given === null ? [] : [[timeSeconds, next.given.name]];
  });
}

describe('the table of cues', () => {
  it.each(CUE_NAMES)('has few words for %s: five spoken, fifteen letters shown', (name) => {
    const { words, spoken } = cueInWords(name, wish(name, 120).why);
    expect(spoken.split(' ').length).toBeLessThanOrEqual(5);
    expect(words.length).toBeLessThanOrEqual(15);
    expect(`${words}${spoken}`).not.toMatch(/[#!]/);
    expect(CUE_TABLE[name].exercises.length).toBeGreaterThan(0);
  });

  it('puts stop and safety first, then counts, corrections, information, and praise last', () => {
    const order: readonly CueName[] = [
      'hold-done',
      'ease-off',
      'repetition',
      'lower-slowly',
      'breathe',
      'like-that',
    ];
    expect([...order].sort((a, b) => cueRank(a) - cueRank(b))).toEqual(order);
    expect(CUE_NAMES.filter(interrupts)).toEqual(['hold-done', 'set-done', 'stopped', 'ease-off']);
  });

  it('names each of the words of standing and of body-moving exercises for those alone', () => {
    expect(CUE_TABLE['elbow-by-side'].exercises).toEqual(['band-curl', 'free-curl']);
    expect(CUE_TABLE['upper-arm-still'].exercises).toEqual(['body-curl']);
    expect(CUE_TABLE['ease-off'].exercises).toEqual(['hold']);
    expect(CUE_TABLE.rest.exercises).toEqual([...EXERCISES]);
  });

  it('will not say a figure that it does not have', () => {
    expect(() => cueInWords('time-left', { what: 'held', repetition: null, measured: null })).toThrow(
      'needs a figure',
    );
  });
});

describe('cues', () => {
  it('come one at a time: a correction waits for the number before it', () => {
    const steps: Step[] = [[0, ['lower-slowly', 'repetition']]];
    for (let at = 0.1; at < 4; at += 0.1) steps.push([at, []]);
    const said = given(steps);
    expect(said.map(([, cue]) => cue)).toEqual(['repetition', 'lower-slowly']);
    expect(said[1]?.[0]).toBeGreaterThanOrEqual(speakingSeconds({ spoken: '3' }));
  });

  it('wait while a voice speaks, and what has become stale is dropped', () => {
    expect(
      given([
        [0, ['bend-more']],
        [2, ['in-range'], true],
        [3, [], true],
        [5, [], false],
      ]),
    ).toEqual([[0, 'bend-more']]);
    expect(
      given([
        [0, ['bend-more']],
        [2, ['in-range'], true],
        [3, [], false],
      ]),
    ).toEqual([
      [0, 'bend-more'],
      [3, 'in-range'],
    ]);
  });

  it('do not fall silent for ever with a voice that never ends', () => {
    expect(
      given([
        [0, ['bend-more']],
        [5, ['in-range'], true],
        [6.5, [], true],
      ]),
    ).toEqual([
      [0, 'bend-more'],
      [6.5, 'in-range'],
    ]);
  });

  it('give way at once to safety, which does not wait for a voice', () => {
    expect(
      given([
        [0, ['bend-more']],
        [0.2, ['ease-off'], true],
      ]),
    ).toEqual([
      [0, 'bend-more'],
      [0.2, 'ease-off'],
    ]);
  });

  it('are repeated only while the fault stays, with gaps that double', () => {
    const times = Array.from({ length: 900 }, (_, i) => i / 10);
    expect(given(times.map((at): Step => [at, ['bend-more']])).map(([at]) => at)).toEqual([0, 8, 24, 56]);
  });

  it('start over with the first gap when the fault had gone', () => {
    let state = NO_CUES;
    for (const timeSeconds of [0, 8])
      state = stepCues(state, [wish('bend-more')], { timeSeconds, isSpeaking: false }).state;
    state = faultsGone(state, ['bend-more']);
    expect(given([[15.9, ['bend-more']]], state)).toEqual([]);
    expect(given([[16, ['bend-more']]], state)).toEqual([[16, 'bend-more']]);
  });

  it('never overlap, never come sooner than their gap, and only stop and safety cut in, whatever is wished', () => {
    const steps = fc.array(
      fc.record({
        gap: fc.double({ min: 0.01, max: 2, noNaN: true }),
        cues: fc.array(fc.constantFrom(...CUE_NAMES), { maxLength: 4 }),
      }),
      { maxLength: 120 },
    );
    fc.assert(
      fc.property(steps, (all) => {
        let at = 0;
        const said = given(all.map(({ gap, cues }): Step => [(at += gap), cues]));
        for (const [index, [time, cue]] of said.entries()) {
          const before = said[index - 1];
          if (before !== undefined && !interrupts(cue)) {
            const { spoken } = cueInWords(before[1], wish(before[1]).why);
            expect(time - before[0]).toBeGreaterThanOrEqual(speakingSeconds({ spoken }) - 1e-9);
          }
          const same = said.slice(0, index).findLast(([, earlier]) => earlier === cue);
          if (same !== undefined)
            expect(time - same[0]).toBeGreaterThanOrEqual(CUE_TABLE[cue].leastGapSeconds - 1e-9);
        }
      }),
      { seed: 6, numRuns: 300 },
    );
  });
});
