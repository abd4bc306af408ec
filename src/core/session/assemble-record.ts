import { NO_NOTES, type SetNotes } from './cue-log.ts';
import { joinSeries } from './frame-pieces.ts';
import { type FrameSeries } from './quantised-frames.ts';
import type { Answers, RecordedSet, SessionHeader, SessionRecord, SetFindings } from './session-record.ts';
import type { SetBeginning } from './session-store.ts';
import type { SetJudge } from './set-judge.ts';
import { withoutPauses } from './measured-time.ts';

/** A set as it is written while recording: piece by piece, the findings last. */
export interface KeptSet {
  readonly beginning: SetBeginning;
  readonly pieces: readonly FrameSeries[];
  /** Null while it is recorded, and for ever when recording broke off. */
  readonly findings: SetFindings | null;
  readonly answers: Answers | null;
  /** Rows that were kept before there were notes have none. */
  readonly notes?: SetNotes;
  /** True when the findings were made after recording had broken off. */
  readonly cutOff: boolean;
}

/**
 * The whole record of a session. A set without findings broke off: it is judged from the frames that are there. Rejects
 * when the judge does.
 */
export async function assembleRecord(
  header: SessionHeader,
  sets: readonly KeptSet[],
  judge: SetJudge,
): Promise<SessionRecord> {
  const assembled = sets.filter(hasContent).map((set) => assembleSet(header, set, judge));
  return { ...header, sets: await Promise.all(assembled) };
}

/** Answers before anything was asked: the pain said at the beginning, and unknown effort. */
export function openAnswers(beginning: SetBeginning, findings: SetFindings): Answers {
  return {
    painBefore: beginning.painBefore,
    painAfter: null,
    effortAfterHolds: findings.judgement.holds.map(() => null),
    effort: null,
    hardest: null,
  };
}

/** False for a set that broke off before its first frame was kept: there is nothing to say of it. */
export function hasContent({ pieces, findings }: Pick<KeptSet, 'pieces' | 'findings'>): boolean {
  return findings !== null || pieces.length > 0;
}

async function assembleSet(
  { settings, thresholds, estimator }: SessionHeader,
  set: KeptSet,
  judge: SetJudge,
): Promise<RecordedSet> {
  const { cues, pauses } = set.notes ?? NO_NOTES;
  const findings =
    set.findings ??
    withoutPauses(await judge.judge(set.pieces, settings, thresholds, estimator.model), pauses);
  return {
    ...findings,
    startedAt: set.beginning.startedAt,
    cutOff: set.cutOff || set.findings === null,
    answers: set.answers ?? openAnswers(set.beginning, findings),
    cues: [...cues],
    pauses: [...pauses],
    tile: set.beginning.tile ?? null,
    frames: joinSeries(set.pieces),
  };
}
