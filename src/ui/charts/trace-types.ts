import type { QuantityForm } from '../../core/feedback/measure-words.ts';
import type { MeasuredColumn } from '../../core/session/measured-set.ts';

/** One measure over a whole set. All measures of a set share the same times, frame by frame. */
export interface TraceMeasure {
  readonly key: string;
  /** As it is read on the chart, without the unit: "Elbow flexion". */
  readonly name: string;
  readonly form: QuantityForm;
  readonly timesSeconds: Float64Array;
  readonly column: MeasuredColumn;
  /** The target range in the measure's unit, or null where there is none. */
  readonly target: { readonly low: number; readonly high: number } | null;
  /** The scale reaches at least from low to high; it grows when the values do. */
  readonly scale: { readonly low: number; readonly high: number };
}

/** How a phase is drawn, so that it is told by shape as well as by its word. */
export type PhaseShape = 'flat' | 'rising' | 'top' | 'falling' | 'within';

/** A stretch of one phase, seconds in the set's own clock. */
export interface TracePhase {
  readonly startSeconds: number;
  readonly endSeconds: number;
  readonly word: string;
  readonly shape: PhaseShape;
}

/** Something noticed at a moment. */
export interface TraceFlag {
  readonly atSeconds: number;
  readonly word: string;
}
