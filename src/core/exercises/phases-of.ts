import { firstAtOrAfter } from '../signal/first-at-or-after.ts';
import type { Phase, SetJudgement, Span } from './judgement.ts';

/**
 * The phase of each frame of a set, in order of time, by a judgement of it. Where two repetitions meet, the earlier one has
 * the frame.
 */
export function phasesOf(
  frames: readonly { readonly timeSeconds: number }[],
  judgement: SetJudgement,
): Phase[] {
  const phases = frames.map((): Phase => 'rest');
  const fill = (span: Span, phaseAt: (timeSeconds: number) => Phase): void => {
    for (let i = firstAtOrAfter(frames, span.startSeconds); i < frames.length; i++) {
      const timeSeconds = frames[i]?.timeSeconds ?? Infinity;
      if (timeSeconds > span.endSeconds) break;
      phases[i] = phaseAt(timeSeconds);
    }
  };
  for (const repetition of judgement.repetitions.toReversed()) {
    fill(repetition, (timeSeconds) => {
      if (timeSeconds < repetition.topStartSeconds) return 'bending';
      return timeSeconds < repetition.loweringStartSeconds ? 'top' : 'lowering';
    });
  }
  for (const { inRangeSpans } of judgement.holds)
    for (const span of inRangeSpans) fill(span, () => 'in-range');
  return phases;
}
