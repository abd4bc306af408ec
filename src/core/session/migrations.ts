import {
  isJsonObject,
  parseJson,
  readDocument,
  type DocumentKind,
  type DocumentProblem,
} from '../documents/read-document.ts';
import { migrationsUpTo, type JsonObject } from '../documents/stepwise-migration.ts';
import {
  headerOf,
  RECORD_FORMAT,
  RECORD_VERSION,
  sessionRecordSchema,
  type SessionHeader,
  type SessionRecord,
} from './session-record.ts';
import { withWorkShare } from './work-share-migration.ts';

/** Why a text is no session record that can be used. The sentences stand in feedback/storage-problems.ts. */
export type RecordProblem = DocumentProblem;

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
  // Version 5 keeps the cues that were given, and the pauses of a set.
  { from: 4, migrate: withOpenNotes },
  // Version 6 says which part of a shared picture was measured.
  { from: 5, migrate: withTile },
]);

const RECORD: DocumentKind<typeof sessionRecordSchema> = {
  format: RECORD_FORMAT,
  version: RECORD_VERSION,
  steps: STEPS,
  schema: sessionRecordSchema,
  whole: 'the whole record',
};

/** Reads a session record from the text of a file: the one gate for everything that comes from outside. */
export function readRecord(text: string): RecordReading {
  const parsed = parseJson(text);
  return parsed.ok ? readRecordValue(parsed.value) : parsed;
}

/** The same for a value that has been parsed, as from the browser's own store. */
export function readRecordValue(value: unknown): RecordReading {
  const reading = readDocument(value, RECORD);
  return reading.ok ? { ok: true, record: reading.value } : reading;
}

/** The header of a session as it was kept, by whichever version, as of this version; null when it cannot be read. */
export function readHeader(kept: object): SessionHeader | null {
  const reading = readRecordValue({ ...kept, sets: [] });
  return reading.ok ? headerOf(reading.record) : null;
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

/** Before version 5 no cue was kept and no set was paused. Notes that are there stay, as answers do. */
function withOpenNotes(record: JsonObject): JsonObject {
  const { sets } = record;
  const noted = (set: unknown): unknown => (isJsonObject(set) ? { cues: [], pauses: [], ...set } : set);
  return Array.isArray(sets) ? { ...record, sets: sets.map(noted) } : record;
}

/** Before version 6 no tile was framed. One that is there stays, as notes do. */
function withTile(record: JsonObject): JsonObject {
  const { sets } = record;
  const framed = (set: unknown): unknown => (isJsonObject(set) ? { tile: null, ...set } : set);
  return Array.isArray(sets) ? { ...record, sets: sets.map(framed) } : record;
}
