import type { QuantityForm } from '../../core/feedback/measure-words.ts';
import type { NotMeasuredReason } from '../../core/kinematics/measured.ts';
import type { TracePoint } from './trace-gaps.ts';

/** A point of a recorded trace; reason stands where value is null. */
export interface RecordedPoint extends TracePoint {
  readonly reason: NotMeasuredReason | null;
}

/** One measure over a whole set. All measures of a set share the same times, point by point. */
export interface TraceMeasure {
  readonly key: string;
  /** As it is read on the chart, without the unit: "Elbow flexion". */
  readonly name: string;
  readonly form: QuantityForm;
  readonly points: readonly RecordedPoint[];
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
