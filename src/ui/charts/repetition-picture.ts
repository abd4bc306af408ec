/** What a small picture of one repetition needs. */
export interface RepetitionPicture {
  /** From 1. */
  readonly number: number;
  readonly startSeconds: number;
  readonly loweringStartSeconds: number;
  readonly endSeconds: number;
  readonly loweringSeconds: number;
  /** What sets it apart, each in a word or two: "partial", "shoulder-dominant". */
  readonly odd: readonly string[];
  /** True where somebody corrected what the program judged. */
  readonly isCorrected: boolean;
}
