import { z } from 'zod';
import { nameGivenTwice } from '../documents/name-given-twice.ts';
import { parseJson, readDocument, type DocumentKind, type Reading } from '../documents/read-document.ts';
import { migrationsUpTo } from '../documents/stepwise-migration.ts';
import type { Plan } from '../plan/plan.ts';
import { readDayValue, readPlanValue, type PlanProblem } from '../plan/read-plan.ts';
import type { TrainingDay } from '../plan/training-day.ts';
import { readRecordValue } from '../session/migrations.ts';
import type { SessionRecord } from '../session/session-record.ts';

/** Says that a file holds training days of this project. */
const LOG_FORMAT = 'forearmed-day-log';
const LOG_SCHEMA_VERSION = 1;

/** What a file of days holds at most of each; far beyond what a course of training makes. */
const MOST_OF_EACH = 2000;

/** The frame of the file only: what is in it passes the gate of its own kind, one by one. */
const logSchema = z.strictObject({
  format: z.literal(LOG_FORMAT),
  schemaVersion: z.literal(LOG_SCHEMA_VERSION),
  writtenAt: z.iso.datetime({ offset: true }),
  versions: z.array(z.unknown()).max(MOST_OF_EACH),
  days: z.array(z.unknown()).max(MOST_OF_EACH),
  records: z.array(z.unknown()).max(MOST_OF_EACH),
});

const LOG: DocumentKind<typeof logSchema> = {
  format: LOG_FORMAT,
  version: LOG_SCHEMA_VERSION,
  steps: migrationsUpTo(LOG_SCHEMA_VERSION, []),
  schema: logSchema,
  whole: 'the whole file',
};

/** Training days as they are handed over: with the versions of the plan that they followed and their session records. */
export interface DayLog {
  readonly versions: readonly Plan[];
  readonly days: readonly TrainingDay[];
  readonly records: readonly SessionRecord[];
}

/** The text of a file of training days. writtenAt: moment with offset. */
export function dayLogText(log: DayLog, writtenAt: string): string {
  return JSON.stringify({ format: LOG_FORMAT, schemaVersion: LOG_SCHEMA_VERSION, writtenAt, ...log });
}

/** What could be read of a file of training days, and how much of it could not. */
export interface ReadDayLog extends DayLog {
  readonly unreadable: number;
}

/** Reads a file of training days. What is damaged in it is left out and counted; the rest is read. */
export function readDayLog(text: string): Reading<ReadDayLog, PlanProblem> {
  const parsed = parseJson(text);
  if (!parsed.ok) return parsed;
  const name = nameGivenTwice(text);
  if (name !== null) return { ok: false, problem: { kind: 'name-twice', name } };
  const reading = readDocument(parsed.value, LOG);
  if (!reading.ok) return reading;
  const { versions, days, records } = reading.value;
  const log: DayLog = {
    versions: versions.flatMap((value) => {
      const read = readPlanValue(value);
      return read.ok ? read.plan : [];
    }),
    days: days.flatMap((value) => {
      const read = readDayValue(value);
      return read.ok ? read.day : [];
    }),
    records: records.flatMap((value) => {
      const read = readRecordValue(value);
      return read.ok ? read.record : [];
    }),
  };
  const given = versions.length + days.length + records.length;
  const readable = log.versions.length + log.days.length + log.records.length;
  return { ok: true, value: { ...log, unreadable: given - readable } };
}
