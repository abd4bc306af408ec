import { measuredWords, momentWords } from '../../core/feedback/measure-words.ts';
import { measuredAt } from '../../core/session/measured-set.ts';
import type { Extent } from './trace-scale.ts';
import type { TraceFlag, TraceMeasure, TracePhase } from './trace-types.ts';

/** A flag counts as being at the cursor when it lies this near, seconds: about three frames of a usual camera. */
const AT_SECONDS = 0.1;

/** A measure's value at a frame, in words; empty outside of the set. */
export function valueAt({ timesSeconds, column, form }: TraceMeasure, index: number): string {
  return index < timesSeconds.length ? measuredWords(measuredAt(column, index), form) : '';
}

/** The word of the phase at a moment, or null between phases. */
export function phaseAt(phases: readonly TracePhase[], seconds: number): string | null {
  return phases.find((phase) => seconds >= phase.startSeconds && seconds < phase.endSeconds)?.word ?? null;
}

/** The words of the flags at a moment, joined; null where there is none. */
export function flagsAt(flags: readonly TraceFlag[], seconds: number): string | null {
  const words = flags
    .filter((flag) => Math.abs(flag.atSeconds - seconds) <= AT_SECONDS)
    .map((flag) => flag.word);
  return words.length === 0 ? null : [...new Set(words)].join(', ');
}

/** What the chart shows at frame `index`, in one sentence for people who hear the page. */
export function momentSentence(
  measures: readonly TraceMeasure[],
  index: number,
  phases: readonly TracePhase[],
  flags: readonly TraceFlag[],
): string {
  const seconds = measures[0]?.timesSeconds[index];
  if (seconds === undefined) return 'No frames.';
  const values = measures.map((measure) => `${measure.name} ${valueAt(measure, index)}`);
  const flag = flagsAt(flags, seconds);
  return [momentWords(seconds), phaseAt(phases, seconds), ...values, flag && `noticed: ${flag}`]
    .filter((part) => part !== null)
    .join(', ');
}

/** The label of a tick of a scale: no more decimals than its step has, "−" below zero. */
export function scaleTickWords(value: number): string {
  return String(Number(value.toFixed(6))).replace('-', '−');
}

/** The label of a tick of the time axis: "12 s", from a minute on "1:05"; tenths where the ticks lie so close. */
export function timeTickWords(seconds: number, window: Extent): string {
  const decimals = window.high - window.low < 8 ? 1 : 0;
  if (seconds < 60) return `${seconds.toFixed(decimals)} s`;
  const minutes = Math.floor(seconds / 60);
  return `${minutes}:${(seconds - minutes * 60).toFixed(decimals).padStart(decimals === 0 ? 2 : 4, '0')}`;
}
