import type { ExerciseSettings } from '../../core/exercises/exercise.ts';
import type { AskedPart } from '../../core/exercises/judge-by-hand.ts';
import type { SetJudgement } from '../../core/exercises/judgement.ts';
import type { Thresholds } from '../../core/exercises/thresholds.ts';
import type { LandmarkSource } from '../../core/kinematics/landmark-errors.ts';
import type { MeasuredSet } from '../../core/session/measured-set.ts';
import type { FrameSeries } from '../../core/session/quantised-frames.ts';
import type { RecordOutline } from '../../core/session/record-opener.ts';
import type { SetFindings } from '../../core/session/session-record.ts';
import type { Stored } from '../../core/stored.ts';

/*
 * What page and judging worker say to each other. Both come from one build, so that types are enough; `job` ties an
 * answer to its question.
 */

/** What the page says. */
export type ToJudge =
  /** The first word: hold this lock for as long as you live. */
  | { readonly kind: 'live'; readonly lockName: string }
  /** Frames for a question that follows under the same number. */
  | { readonly kind: 'pieces'; readonly job: number; readonly pieces: readonly FrameSeries[] }
  | ({ readonly job: number } & Question);

/** What is answered once. `record` is the number of the job that opened it. */
export type Question =
  | {
      readonly kind: 'judge';
      readonly settings: ExerciseSettings;
      readonly thresholds: Thresholds;
      readonly landmarks: LandmarkSource;
    }
  /** Opens a record of the database. */
  | { readonly kind: 'open'; readonly sessionId: string }
  /** Opens a record that the page has: its outline, and how many of the pieces sent are of each set. */
  | {
      readonly kind: 'take';
      readonly outline: RecordOutline;
      readonly piecesOfSets: readonly number[];
    }
  | { readonly kind: 'measure'; readonly record: number; readonly setIndex: number }
  | {
      readonly kind: 'judge-parts';
      readonly record: number;
      readonly setIndex: number;
      readonly parts: readonly AskedPart[];
    }
  | { readonly kind: 'record-file' | 'frames-file' | 'close'; readonly record: number };

/** What the worker says. */
export type FromJudge =
  | { readonly kind: 'living' }
  /** Pieces have come; more may follow. */
  | { readonly kind: 'taken'; readonly job: number }
  | { readonly kind: 'share'; readonly job: number; readonly share: number }
  | ({ readonly job: number } & Answer);

/** An answer to a question. */
export type Answer =
  | { readonly kind: 'judged'; readonly findings: SetFindings }
  | { readonly kind: 'opened'; readonly opened: Stored<RecordOutline> }
  | { readonly kind: 'measured'; readonly set: MeasuredSet }
  | { readonly kind: 'judged-parts'; readonly judgement: SetJudgement | null }
  | { readonly kind: 'file'; readonly file: Blob }
  | { readonly kind: 'closed' }
  /** The work itself failed, with the platform's or our own sentence for developers. */
  | { readonly kind: 'failed'; readonly detail: string };
