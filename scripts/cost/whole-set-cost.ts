import type { ExerciseSettings } from '../../src/core/exercises/exercise.ts';
import { judgeSet } from '../../src/core/exercises/judge-set.ts';
import { phasesOf } from '../../src/core/exercises/phases-of.ts';
import { DEFAULT_THRESHOLDS } from '../../src/core/exercises/thresholds.ts';
import { measureSet } from '../../src/core/kinematics/measure-set.ts';
import { joinSeries } from '../../src/core/session/frame-pieces.ts';
import { decodeFrames, encodeFrames } from '../../src/core/session/quantised-frames.ts';
import { costSet } from './cost-set.ts';

/** Frames of a piece as the recorder writes it: half a second. */
const PIECE_FRAMES = 16;

/** Seconds that each step of judging a whole set takes. */
export interface WholeSetCost {
  readonly minutes: number;
  readonly steps: Readonly<Record<'encode' | 'join' | 'decode' | 'measure' | 'judge' | 'phases', number>>;
  readonly allSeconds: number;
}

/** Judges a set of so many minutes and times the steps. The least of `rounds` runs counts: the rest is others' work. */
export function wholeSetCost(settings: ExerciseSettings, minutes: number, rounds: number): WholeSetCost {
  const frames = costSet(settings, 60 * minutes);
  const least = { encode: Infinity, join: Infinity, decode: Infinity, measure: Infinity, judge: Infinity };
  const steps = { ...least, phases: Infinity };
  const timed = <Result>(step: keyof typeof steps, work: () => Result): Result => {
    const from = performance.now();
    const result = work();
    steps[step] = Math.min(steps[step], (performance.now() - from) / 1000);
    return result;
  };
  for (let round = 0; round < rounds; round++) {
    const pieces = timed('encode', () =>
      Array.from({ length: Math.ceil(frames.length / PIECE_FRAMES) }, (_, i) =>
        encodeFrames(frames.slice(i * PIECE_FRAMES, (i + 1) * PIECE_FRAMES)),
      ),
    );
    const whole = timed('join', () => joinSeries(pieces));
    const stored = timed('decode', () => decodeFrames(whole));
    const series = timed('measure', () => measureSet(stored, settings));
    const judgement = timed('judge', () => judgeSet(series, settings, DEFAULT_THRESHOLDS));
    timed('phases', () => phasesOf(series.frames, judgement));
  }
  return { minutes, steps, allSeconds: Object.values(steps).reduce((sum, seconds) => sum + seconds, 0) };
}
