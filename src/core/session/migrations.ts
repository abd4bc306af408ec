import {
  headerOf,
  RECORD_FORMAT,
  RECORD_VERSION,
  sessionRecordSchema,
  type SessionHeader,
  type SessionRecord,
} from './session-record.ts';
import { migrate, migrationsUpTo, type JsonObject } from './stepwise-migration.ts';
import { withWorkShare } from './work-share-migration.ts';

/** Why a text is no session record that can be used. The sentences stand in feedback/storage-problems.ts. */
export type RecordProblem =
  | { readonly kind: 'not-json'; readonly detail: string }
  | { readonly kind: 'not-ours' }
  | { readonly kind: 'newer-version'; readonly version: number; readonly readableVersion: number }
  | { readonly kind: 'damaged'; readonly path: string; readonly detail: string };

/** A record, or why there is none. */
export type RecordReading =
  | { readonly ok: true; readonly record: SessionRecord }
  | { readonly ok: false; readonly problem: RecordProblem };

/**
 * Every step from version 1 on. A new version adds one step here and a sample of the version before it in
 * tests/fixtures/records, which stays for ever.
 */
const STEPS = migrationsUpTo(RECORD_VERSION, [
  // Version 2 knows one more way of taking the elbow's angle; what version 1 wrote stays true.
  { from: 1, migrate: (record) => record },
  // Version 3 knows one more reason for a value that was not measured, landmarks of several networks, and the shoulder's
  // share of the work.
  { from: 2, migrate: (record) => withWorkShare(withNetworkList(record)) },
  // Version 4 names the plan that a session followed, and keeps the effort of repetitions and where they were hardest.
  { from: 3, migrate: withoutPlan },
]);

/** Reads a session record from the text of a file: the one gate for everything that comes from outside. */
export function readRecord(text: string): RecordReading {
  let value: unknown;
  try {
    value = JSON.parse(text.replace(/^\uFEFF/, ''));
  } catch (error) {
    return refuse({ kind: 'not-json', detail: error instanceof Error ? error.message : String(error) });
  }
  return readRecordValue(value);
}

/** The same for a value that has been parsed, as from the browser's own store. */
export function readRecordValue(value: unknown): RecordReading {
  if (!isJsonObject(value) || value['format'] !== RECORD_FORMAT) return refuse({ kind: 'not-ours' });
  const version = value['schemaVersion'];
  if (typeof version !== 'number' || !Number.isInteger(version) || version < 1)
    return refuse({ kind: 'damaged', path: 'schemaVersion', detail: 'It is no version number.' });
  if (version > RECORD_VERSION)
    return refuse({ kind: 'newer-version', version, readableVersion: RECORD_VERSION });
  const checked = sessionRecordSchema.safeParse(migrate(value, version, STEPS));
  if (checked.success) return { ok: true, record: checked.data };
  const [issue] = checked.error.issues;
  return refuse({
    kind: 'damaged',
    path: issue?.path.join('.') || 'the whole record',
    detail: issue?.message ?? 'unknown',
  });
}

/**
 * The header of a session as it was kept, by whichever version, as of this version; what cannot be read stays as it is,
 * and whoever opens the session is told.
 */
export function readHeader(kept: SessionHeader): SessionHeader {
  const reading = readRecordValue({ ...kept, sets: [] });
  return reading.ok ? headerOf(reading.record) : kept;
}

function withNetworkList(record: JsonObject): JsonObject {
  const { estimator } = record;
  if (!isJsonObject(estimator)) return record;
  const { modelSha256, ...others } = estimator;
  return { ...record, estimator: { ...others, modelSha256s: [modelSha256] } };
}

/** Sessions before version 4 followed no plan, and nobody asked what version 4 asks. */
function withoutPlan(record: JsonObject): JsonObject {
  const { sets } = record;
  return { ...record, plan: null, ...(Array.isArray(sets) ? { sets: sets.map(withOpenAnswers) } : {}) };
}

/** Answers that are there stay: a set that broke off may be put together by newer code than its session began with. */
function withOpenAnswers(set: unknown): unknown {
  if (!isJsonObject(set) || !isJsonObject(set['answers'])) return set;
  return { ...set, answers: { effort: null, hardest: null, ...set['answers'] } };
}

function isJsonObject(value: unknown): value is JsonObject {
  return typeof value === 'object' && value !== null && !Array.isArray(value);
}

function refuse(problem: RecordProblem): RecordReading {
  return { ok: false, problem };
}
