import type { RecordOutline } from '../session/record-opener.ts';
import type { SetFindings } from '../session/session-record.ts';
import { summariseSession, type SessionSummary } from '../session/summary.ts';
import { correctedJudgement, type CorrectedJudgement, type Misfit } from './corrections.ts';
import { recordDigest } from './record-digest.ts';
import type { ReviewDocument } from './review-document.ts';

/** A session after the corrections of a review. */
export interface CorrectedSession {
  /** What is found in each set as it stands now; the frames' own figures stay. */
  readonly findings: readonly SetFindings[];
  readonly sets: readonly CorrectedJudgement[];
  readonly summary: SessionSummary;
  /** Corrections that hold. */
  readonly correctionCount: number;
  /** Corrections that are not done, each with its reason. */
  readonly misfits: readonly Misfit[];
}

/** True when a review is of this record with these findings. */
function isReviewOf(review: ReviewDocument, outline: RecordOutline): boolean {
  return review.sessionId === outline.id && review.recordDigest === recordDigest(outline);
}

/**
 * A session as it stands after a review; as the program judged it without one. Of a review that is of another record
 * nothing is done, and every correction is told as a misfit.
 */
export function correctedSession(outline: RecordOutline, review: ReviewDocument | null): CorrectedSession {
  const active = (review?.corrections ?? []).filter(({ withdrawnAt }) => withdrawnAt === null);
  const fits = review === null || isReviewOf(review, outline);
  const sets = outline.sets.map(({ judgement }, index) =>
    correctedJudgement(judgement, fits ? active.filter(({ setIndex }) => setIndex === index) : []),
  );
  const findings = outline.sets.map(
    ({ view, measuredTime, elbowFlexion, judgement }, index): SetFindings => ({
      view,
      measuredTime,
      elbowFlexion,
      judgement: sets[index]?.judgement ?? judgement,
    }),
  );
  const misfits = fits
    ? [
        ...sets.flatMap((set) => set.misfits),
        ...active
          .filter(({ setIndex }) => setIndex >= outline.sets.length)
          .map((correction): Misfit => ({ correction, why: 'not-in-record' })),
      ]
    : active.map((correction): Misfit => ({ correction, why: 'other-record' }));
  return {
    findings,
    sets,
    summary: summariseSession(findings),
    correctionCount: active.length - misfits.length,
    misfits,
  };
}
