import { judgePieces } from './build-session.ts';
import { joinSeries } from './frame-pieces.ts';
import { type FrameSeries } from './quantised-frames.ts';
import type { Answers, RecordedSet, SessionHeader, SessionRecord, SetFindings } from './session-record.ts';
import type { SetBeginning } from './session-store.ts';

/** A set as it is written while recording: piece by piece, the findings last. */
export interface KeptSet {
  readonly beginning: SetBeginning;
  readonly pieces: readonly FrameSeries[];
  /** Null while it is recorded, and for ever when recording broke off. */
  readonly findings: SetFindings | null;
  readonly answers: Answers | null;
  /** True when the findings were made after recording had broken off. */
  readonly cutOff: boolean;
}

/** The whole record of a session. A set without findings broke off: it is judged from the frames that are there. */
export function assembleRecord(header: SessionHeader, sets: readonly KeptSet[]): SessionRecord {
  return { ...header, sets: sets.filter(hasContent).map((set) => assembleSet(header, set)) };
}

/** Answers before anything was asked: the pain said at the beginning, and unknown effort. */
export function openAnswers(beginning: SetBeginning, findings: SetFindings): Answers {
  return {
    painBefore: beginning.painBefore,
    painAfter: null,
    effortAfterHolds: findings.judgement.holds.map(() => null),
  };
}

/** False for a set that broke off before its first frame was kept: there is nothing to say of it. */
export function hasContent({ pieces, findings }: Pick<KeptSet, 'pieces' | 'findings'>): boolean {
  return findings !== null || pieces.length > 0;
}

function assembleSet(header: SessionHeader, set: KeptSet): RecordedSet {
  const findings = set.findings ?? judgePieces(set.pieces, header.settings, header.thresholds);
  return {
    ...findings,
    startedAt: set.beginning.startedAt,
    cutOff: set.cutOff || set.findings === null,
    answers: set.answers ?? openAnswers(set.beginning, findings),
    frames: joinSeries(set.pieces),
  };
}
