import { measureAndJudge, judgeParts } from '../../../src/core/session/build-session.ts';
import { outlineOf, type RecordOutline } from '../../../src/core/session/record-opener.ts';
import type { SetJudgement } from '../../../src/core/exercises/judgement.ts';
import type { AskedPart } from '../../../src/core/exercises/judge-by-hand.ts';
import { newReview } from '../../../src/core/review/change-review.ts';
import type { Correction, ItemRef, ReviewDocument } from '../../../src/core/review/review-document.ts';
import { curlFilm, recordOf, sampleHeader } from '../session/sample-session.ts';

/* A record of an invented person with curls of known times, and corrections of it. */

const film = curlFilm(24);
const header = sampleHeader('body-curl');
const judged = measureAndJudge(film, header.settings, header.thresholds);

/** A set of curls, each four seconds long. */
export const record = recordOf([film], header);
export const outline: RecordOutline = outlineOf(record);
export const judgement: SetJudgement = judged.findings.judgement;

/** Parts of the set judged by hand. */
export function judgeByHandHere(parts: readonly AskedPart[]): SetJudgement | null {
  return judgeParts(header, judged, parts);
}

/** A seeded id that the schema takes. */
export function idOf(number: number): string {
  return `00000000-0000-4000-8000-${number.toString(16).padStart(12, '0')}`;
}

export const AT = '2026-03-03T09:00:00.000+01:00';
export const LATER = '2026-03-03T09:05:00.000+01:00';

/** The name of a repetition of the record. */
export function refTo(index: number, of: SetJudgement = judgement): ItemRef {
  const repetition = of.repetitions[index];
  if (repetition === undefined) throw new Error(`The sample has no repetition ${index}.`);
  const { startSeconds, endSeconds } = repetition;
  return { from: 'record', index, startSeconds, endSeconds };
}

/** A correction of the sample's only set. */
export function correction(
  number: number,
  kind: Correction['kind'],
  targets: readonly ItemRef[],
  repetitions: SetJudgement['repetitions'] = [],
): Correction {
  return {
    id: idOf(number),
    kind,
    item: 'repetition',
    setIndex: 0,
    targets: [...targets],
    instead: { holds: [], repetitions },
    reason: 'Seen in the video.',
    at: AT,
    withdrawnAt: null,
  };
}

export function review(corrections: readonly Correction[] = []): ReviewDocument {
  return { ...newReview(outline, idOf(9000), AT), corrections: [...corrections] };
}
