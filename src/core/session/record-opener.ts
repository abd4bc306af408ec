import type { AskedPart } from '../exercises/judge-by-hand.ts';
import type { SetJudgement } from '../exercises/judgement.ts';
import type { OnShare } from './build-session.ts';
import type { MeasuredSet } from './measured-set.ts';
import type { RecordedSet, SessionHeader, SessionRecord } from './session-record.ts';
import type { Stored } from '../stored.ts';

/** A recorded set without its frames. */
export type SetOutline = Omit<RecordedSet, 'frames'>;

/** A record without the frames of its sets: everything that a screen shows at once. */
export type RecordOutline = SessionHeader & { readonly sets: readonly SetOutline[] };

/** A record that is looked at. Its frames stay where they are worked on, and only what is shown of them is handed over. */
export interface OpenedRecord {
  readonly outline: RecordOutline;
  /** A set measured again from its stored landmarks. Throws when there is no such set. */
  measure(setIndex: number, onShare: OnShare): Promise<MeasuredSet>;
  /**
   * Parts of a set in which a person sees one hold or one repetition each, judged from the stored landmarks; null when one
   * of them cannot be measured. Throws when there is no such set.
   */
  judgeParts(setIndex: number, parts: readonly AskedPart[]): Promise<SetJudgement | null>;
  /** The whole record as the text of a file. */
  recordFile(): Promise<Blob>;
  /** The table of all frames of all sets, measured again. */
  framesFile(): Promise<Blob>;
  /** Lets go of the frames; nothing else may be asked afterwards. */
  close(): void;
}

/** The outline of a record. */
export function outlineOf({ sets, ...header }: SessionRecord): RecordOutline {
  return { ...header, sets: sets.map(({ frames: _frames, ...outline }) => outline) };
}

/** Opens kept records. */
export interface RecordOpener {
  open(sessionId: string): Promise<Stored<OpenedRecord>>;
}
