import { z } from 'zod';
import { parseGuarded } from '../documents/guarded-text.ts';
import { manifestEntrySchema } from '../exchange/manifest.ts';
import { decisionSchema, type Decision } from '../plan/decision.ts';
import type { Plan } from '../plan/plan.ts';
import { readDayValue, readPlanValue } from '../plan/read-plan.ts';
import type { TrainingDay } from '../plan/training-day.ts';
import { readReviewValue } from '../review/read-review.ts';
import type { ReviewDocument } from '../review/review-document.ts';
import { readRecordValue } from '../session/migrations.ts';
import { preferencesSchema, type Preferences } from '../session/preferences.ts';
import type { SessionRecord } from '../session/session-record.ts';
import { keptVideoSchema, type KeptVideo } from '../session/video-store.ts';

/** Says that a file is a backup of this project. */
const BACKUP_FORMAT = 'forearmed-backup';

/** The version that this code writes. Version 2 adds what was kept beside, and keys; what version 1 says is said so still. */
const BACKUP_VERSION = 2;

/**
 * Characters of one line at most. A session of an hour at sixty pictures a second has under a tenth of it; a line that is
 * longer could fill the memory before it is known to be none of ours.
 */
export const MOST_LINE_CHARACTERS = 64_000_000;

/** One thing of a backup: a document, a part of a video, what there is one of, or a row that nobody can read. */
export type BackupItem =
  | { readonly kind: 'record'; readonly value: SessionRecord }
  | { readonly kind: 'plan'; readonly value: Plan }
  | { readonly kind: 'day'; readonly value: TrainingDay }
  | { readonly kind: 'decision'; readonly value: Decision }
  | { readonly kind: 'review'; readonly value: ReviewDocument }
  | { readonly kind: 'preferences'; readonly value: Preferences }
  | { readonly kind: 'followed'; readonly value: string }
  | { readonly kind: 'draft'; readonly value: Plan }
  | { readonly kind: 'video'; readonly value: KeptVideo }
  /** Bytes of the video that came last, in order, in base64. */
  | { readonly kind: 'video-bytes'; readonly value: string }
  /** What came under the name of something else; its bytes follow. */
  | { readonly kind: 'beside'; readonly value: BesideHead }
  /** Bytes of what came beside last, in order, in base64. */
  | { readonly kind: 'beside-bytes'; readonly value: string }
  /** A key pair of the therapist as its file, locked with a passphrase, in base64. A secret key never stands here open. */
  | { readonly kind: 'key'; readonly value: string }
  /** A row that could not be read when the backup was made, as it was. */
  | { readonly kind: 'aside'; readonly value: AsideValue };

const asideSchema = z.strictObject({ table: z.string().max(40), key: z.unknown(), value: z.unknown() });
/** A row of the store that cannot be read, as it was: of which table, under which key. */
export type AsideValue = z.infer<typeof asideSchema>;

/** What is kept beside something else of its name, without its bytes. */
export const besideHeadSchema = z.strictObject({
  key: z.string().max(400),
  entry: manifestEntrySchema,
  ownerId: z.uuid(),
  fileName: z.string().max(1000),
  cameAt: z.iso.datetime({ offset: true }),
  mimeType: z.string().max(120),
});
export type BesideHead = z.infer<typeof besideHeadSchema>;

/** Characters of a key file at most: it has under a thousand. */
const MOST_KEY_CHARACTERS = 10_000;

/** What there is of each kind. */
export type BackupCounts = Readonly<Partial<Record<BackupItem['kind'], number>>>;

const headSchema = z.strictObject({
  format: z.literal(BACKUP_FORMAT),
  schemaVersion: z.int().min(1),
  madeAt: z.iso.datetime({ offset: true }),
  software: z.strictObject({ name: z.string().max(60), version: z.string().max(30) }),
});
/** The first line of a backup. */
export type BackupHead = z.infer<typeof headSchema>;

const endSchema = z.strictObject({
  end: z.partialRecord(z.string().max(40), z.int().min(0)).describe('How many lines of each kind there are.'),
});

/** A line of a backup. */
export type BackupLine =
  | { readonly kind: 'head'; readonly head: BackupHead }
  | { readonly kind: 'item'; readonly item: BackupItem }
  | { readonly kind: 'end'; readonly counts: BackupCounts };

/** Why a file, or a line of it, is not taken in. The sentences stand in feedback/backup-words.ts. */
export type BackupProblem =
  | { readonly kind: 'not-ours' }
  | { readonly kind: 'newer-version'; readonly version: number; readonly readableVersion: number }
  /** The end is missing, or does not count what was there; a check sum does not fit. */
  | { readonly kind: 'cut-or-changed' }
  | { readonly kind: 'too-long' }
  /** A line is no document that can be used. */
  | { readonly kind: 'damaged'; readonly line: number; readonly detail: string }
  | { readonly kind: 'cancelled' };

/** The first line's text, without the line end. */
export function headLine(madeAt: string, software: BackupHead['software']): string {
  return JSON.stringify({ format: BACKUP_FORMAT, schemaVersion: BACKUP_VERSION, madeAt, software });
}

/** The text of an item's line, without the line end. Throws for an aside row that JSON cannot say. */
export function itemLine(item: BackupItem): string {
  return JSON.stringify(item);
}

/** The last line's text. */
export function endLine(counts: BackupCounts): string {
  return JSON.stringify({ end: counts });
}

/** Reads one line through the gate of its kind. lineNumber: from 1; the first must be the head. */
export function readLine(
  text: string,
  lineNumber: number,
):
  { readonly ok: true; readonly line: BackupLine } | { readonly ok: false; readonly problem: BackupProblem } {
  const parsed = parseGuarded(text, MOST_LINE_CHARACTERS);
  if (lineNumber === 1) return parsed.ok ? readHead(parsed.value) : refused({ kind: 'not-ours' });
  if (!parsed.ok) return refused({ kind: 'damaged', line: lineNumber, detail: parsed.problem.kind });
  const end = endSchema.safeParse(parsed.value);
  if (end.success) return { ok: true, line: { kind: 'end', counts: end.data.end } };
  const item = readItem(parsed.value);
  return typeof item === 'string'
    ? refused({ kind: 'damaged', line: lineNumber, detail: item })
    : { ok: true, line: { kind: 'item', item } };
}

function readHead(value: unknown): ReturnType<typeof readLine> {
  const head = headSchema.safeParse(value);
  if (!head.success) return refused({ kind: 'not-ours' });
  const { schemaVersion: version } = head.data;
  if (version > BACKUP_VERSION)
    return refused({ kind: 'newer-version', version, readableVersion: BACKUP_VERSION });
  return { ok: true, line: { kind: 'head', head: head.data } };
}

const lineSchema = z.strictObject({ kind: z.string(), value: z.unknown() });

/** The item, or what is wrong with it. */
function readItem(line: unknown): BackupItem | string {
  const read = lineSchema.safeParse(line);
  if (!read.success) return 'It is no line of a backup.';
  const { kind, value } = read.data;
  switch (kind) {
    case 'record': {
      const reading = readRecordValue(value);
      return reading.ok ? { kind, value: reading.record } : JSON.stringify(reading.problem);
    }
    case 'plan':
    case 'draft': {
      const reading = readPlanValue(value);
      return reading.ok ? { kind, value: reading.plan } : JSON.stringify(reading.problem);
    }
    case 'day': {
      const reading = readDayValue(value);
      return reading.ok ? { kind, value: reading.day } : JSON.stringify(reading.problem);
    }
    case 'review': {
      const reading = readReviewValue(value);
      return reading.ok ? { kind, value: reading.review } : JSON.stringify(reading.problem);
    }
    case 'decision':
      return checked(decisionSchema, value, (it) => ({ kind, value: it }));
    case 'preferences':
      return checked(preferencesSchema, value, (it) => ({ kind, value: it }));
    case 'followed':
      return checked(z.uuid(), value, (it) => ({ kind, value: it }));
    case 'video':
      return checked(keptVideoSchema, value, (it) => ({ kind, value: it }));
    case 'beside':
      return checked(besideHeadSchema, value, (it) => ({ kind, value: it }));
    case 'key':
      return checked(z.base64().max(MOST_KEY_CHARACTERS), value, (it) => ({ kind, value: it }));
    case 'video-bytes':
    case 'beside-bytes':
      return checked(z.base64(), value, (it) => ({ kind, value: it }));
    case 'aside':
      return checked(asideSchema, value, (it) => ({ kind, value: it }));
    default:
      return 'It is of a kind that this version does not know.';
  }
}

function checked<Value>(
  schema: z.ZodType<Value>,
  value: unknown,
  item: (read: Value) => BackupItem,
): BackupItem | string {
  const read = schema.safeParse(value);
  return read.success ? item(read.data) : (read.error.issues[0]?.message ?? 'It is not what it says.');
}

function refused(problem: BackupProblem): { readonly ok: false; readonly problem: BackupProblem } {
  return { ok: false, problem };
}
