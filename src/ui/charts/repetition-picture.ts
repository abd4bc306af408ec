import type { TracePoint } from './trace-gaps.ts';

/** What a small picture of one repetition needs. */
export interface RepetitionPicture {
  /** From 1. */
  readonly number: number;
  readonly startSeconds: number;
  readonly loweringStartSeconds: number;
  readonly endSeconds: number;
  readonly loweringSeconds: number;
  /** Elbow flexion of the whole set, degrees; the picture takes its own stretch. */
  readonly points: readonly TracePoint[];
  /** What sets it apart, each in a word or two: "partial", "shoulder-dominant". */
  readonly odd: readonly string[];
}
