import { describe, expect, it } from 'vitest';
import { FLAG_KINDS } from '../../../src/core/exercises/judgement.ts';
import {
  BEND_MORE,
  cueForFlags,
  EASE_OFF,
  NO_CUES,
  STRAIGHTEN,
  stepCues,
  type Cue,
} from '../../../src/core/feedback/cue-policy.ts';

/** Gives the wishes at their times and says which words began when. */
function said(wishes: readonly (readonly [timeSeconds: number, wish: Cue | null])[]): [number, string][] {
  let state = NO_CUES;
  return wishes.flatMap(([timeSeconds, wish]) => {
    const next = stepCues(state, wish, timeSeconds);
    state = next.state;
    return next.isNew && state.shown !== null ? [[timeSeconds, state.shown.cue.words]] : [];
  });
}

describe('cues', () => {
  it('have at most five words, and few enough letters to be read from three metres', () => {
    const cues = [EASE_OFF, BEND_MORE, STRAIGHTEN, ...FLAG_KINDS.map((kind) => cueForFlags([kind]))];
    for (const cue of cues) {
      expect(cue?.words.split(' ').length ?? 0).toBeLessThanOrEqual(5);
      expect(cue?.words.length ?? 0).toBeLessThanOrEqual(15);
    }
  });

  it('come one at a time: a second correction waits and is not taken up late', () => {
    expect(
      said([
        [0, BEND_MORE],
        [1, STRAIGHTEN],
        [5, null],
      ]),
    ).toEqual([[0, BEND_MORE.words]]);
  });

  it('give way at once to safety', () => {
    expect(
      said([
        [0, BEND_MORE],
        [0.5, EASE_OFF],
      ]),
    ).toEqual([
      [0, BEND_MORE.words],
      [0.5, EASE_OFF.words],
    ]);
  });

  it('are not repeated before a person had time to act', () => {
    const times = Array.from({ length: 120 }, (_, i) => i / 10);
    expect(said(times.map((time) => [time, BEND_MORE])).map(([time]) => time)).toEqual([0, 8]);
  });

  it('name the gravest of several flags', () => {
    expect(cueForFlags(['lowering-fast', 'shoulder-dominant'])).toEqual(cueForFlags(['shoulder-dominant']));
    expect(cueForFlags([])).toBeNull();
  });
});
