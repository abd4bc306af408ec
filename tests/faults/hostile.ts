import { readFileSync } from 'node:fs';
import { packLines, unpackLines } from '../../src/adapters/backup/backup-file.ts';
import { MemorySessionStore } from '../../src/adapters/storage/memory-session-store.ts';
import { endLine, headLine, itemLine } from '../../src/core/backup/backup-lines.ts';
import { readBackup } from '../../src/core/backup/take-in-backup.ts';
import { fileOf } from '../../src/core/exchange/package-items.ts';
import { PackageRefused } from '../../src/core/exchange/package-problem.ts';
import { openZip } from '../../src/core/exchange/read-package.ts';
import { packageParts } from '../../src/core/exchange/write-package.ts';
import { backupSentence } from '../../src/core/feedback/backup-words.ts';
import { packageSentence } from '../../src/core/feedback/package-words.ts';
import { planProblemSentence } from '../../src/core/feedback/plan-words.ts';
import { reviewProblemSentence } from '../../src/core/feedback/review-words.ts';
import { recordSentence } from '../../src/core/feedback/storage-problems.ts';
import { readDay, readPlan } from '../../src/core/plan/read-plan.ts';
import { isSameValue } from '../../src/core/plan/same-value.ts';
import { readReview } from '../../src/core/review/read-review.ts';
import { openedHere } from '../../src/core/export/open-record.ts';
import { recomputeSet } from '../../src/core/session/build-session.ts';
import { readRecord } from '../../src/core/session/migrations.ts';
import type { SessionRecord } from '../../src/core/session/session-record.ts';
import { seededRandom } from '../helpers/seeded-random.ts';
import { mutated, mutatedBytes } from './mutate.ts';

/** What became of one hostile input. wrong: what is not as it must be, else null. */
export interface HostileRun {
  readonly kind: string;
  readonly what: string;
  readonly outcome: 'refused' | 'taken as it says';
  readonly wrong: string | null;
}

const fixture = (path: string): string =>
  readFileSync(new URL(`../fixtures/${path}`, import.meta.url), 'utf8');
const SAMPLES = {
  record: fixture('records/v6-body-curl.record.json'),
  plan: fixture('plans/v2-all-equipment.plan.json'),
  day: fixture('plans/v1-body-curl.day.json'),
  review: fixture('reviews/v1-body-curl.review.json'),
} as const;
type DocumentName = keyof typeof SAMPLES;

/** A text through the gate of its kind: the sentence of a refusal, or the value that is taken in. */
const GATES: Readonly<Record<DocumentName, (text: string) => { sentence: string } | { value: unknown }>> = {
  record: (text) => {
    const reading = readRecord(text);
    return reading.ok ? { value: reading.record } : { sentence: recordSentence(reading.problem) };
  },
  plan: (text) => {
    const reading = readPlan(text);
    return reading.ok ? { value: reading.plan } : { sentence: planProblemSentence(reading.problem) };
  },
  day: (text) => {
    const reading = readDay(text);
    return reading.ok ? { value: reading.day } : { sentence: planProblemSentence(reading.problem, 'day') };
  },
  review: (text) => {
    const reading = readReview(text);
    return reading.ok ? { value: reading.review } : { sentence: reviewProblemSentence(reading.problem) };
  },
};

/** Documents, packages and backups with one thing wrong in each, one after the other; the same seed, the same inputs. */
export async function* hostileRuns(count: number, seed: number): AsyncGenerator<HostileRun> {
  const chance = seededRandom(seed);
  const zip = await goodPackage();
  const backup = await goodBackup();
  const kinds = ['record', 'plan', 'day', 'review', 'package', 'backup'] as const;
  for (let index = 0; index < count; index++) {
    const kind = kinds[index % kinds.length] ?? 'record';
    if (kind === 'package') yield await packageRun(mutatedBytes(zip, chance));
    else if (kind === 'backup') yield await backupRun(mutatedBytes(backup, chance));
    else yield await documentRun(kind, mutated(JSON.parse(SAMPLES[kind]), chance));
  }
}

async function documentRun(
  kind: DocumentName,
  { what, text }: { what: string; text: string },
): Promise<HostileRun> {
  try {
    const read = GATES[kind](text);
    if ('sentence' in read) return refusal(kind, what, read.sentence);
    const said: unknown = JSON.parse(text);
    const isAsItSays = isSameValue(read.value, said);
    const wrong = isAsItSays ? await keeping(kind, text) : 'what is shown is not what the file says';
    return { kind, what, outcome: 'taken as it says', wrong };
  } catch (error) {
    return { kind, what, outcome: 'refused', wrong: `thrown: ${String(error).slice(0, 120)}` };
  }
}

/** A record that is taken in is kept, listed and given back as it came. */
async function keeping(kind: DocumentName, text: string): Promise<string | null> {
  if (kind !== 'record') return null;
  const reading = readRecord(text);
  if (!reading.ok) return 'read once and refused once';
  const untold = await saidUntold(reading.record);
  if (untold !== null) return untold;
  const store = new MemorySessionStore();
  await store.importRecord(reading.record);
  const [listed, loaded] = [await store.listSessions(), await store.loadSession(reading.record.id)];
  if (!listed.ok || listed.value.length !== 1) return 'kept and not listed';
  return loaded.ok && isSameValue(loaded.value, reading.record) ? null : 'given back otherwise than it came';
}

/**
 * A figure of a set that is far from what the set's landmarks give, and of which the screen would not say so; null where there
 * is none. What is far is told here from repetition to repetition and hold to hold, by no code of the app.
 */
async function saidUntold(record: SessionRecord): Promise<string | null> {
  const opened = openedHere(record);
  for (const [index, { judgement, elbowFlexion }] of record.sets.entries()) {
    const { follows } = await opened.measure(index, () => undefined);
    if (!follows) continue;
    const again = recomputeSet(record, index).findings;
    const counts = [judgement, again.judgement].map(({ holds, repetitions }) => [
      holds.length,
      repetitions.filter(({ partial }) => partial).length,
      repetitions.filter(({ partial }) => !partial).length,
    ]);
    if (!isSameValue(counts[0], counts[1]))
      return `set ${index}: other counts than the landmarks give, untold`;
    const most = [elbowFlexion, again.elbowFlexion].map((range) => range?.mostDeg ?? NaN);
    if (Math.abs((most[0] ?? NaN) - (most[1] ?? NaN)) > 15) return `set ${index}: ${most.join()} deg, untold`;
  }
  return null;
}

async function packageRun({
  what,
  bytes,
}: {
  what: string;
  bytes: Uint8Array<ArrayBuffer>;
}): Promise<HostileRun> {
  const kind = 'package';
  try {
    const opened = await openZip(new Blob([bytes]));
    for (const place of opened.manifest.entries.keys()) {
      const item = await opened.item(place);
      if (!item.ok) return refusal(kind, what, planProblemSentence(item.problem));
      const value = item.value;
      if (value?.kind === 'record' && !isSameValue(value.record, JSON.parse(SAMPLES.record)))
        return { kind, what, outcome: 'taken as it says', wrong: 'a changed record was taken in' };
    }
    return { kind, what, outcome: 'taken as it says', wrong: null };
  } catch (error) {
    if (error instanceof PackageRefused) return refusal(kind, what, packageSentence(error.problem));
    return { kind, what, outcome: 'refused', wrong: `thrown: ${String(error).slice(0, 120)}` };
  }
}

async function backupRun({
  what,
  bytes,
}: {
  what: string;
  bytes: Uint8Array<ArrayBuffer>;
}): Promise<HostileRun> {
  const kind = 'backup';
  try {
    const reading = await readBackup(unpackLines(new Blob([bytes])), { isCancelled: () => false });
    if (!reading.ok) return refusal(kind, what, backupSentence(reading.problem));
    // gzip has bytes that say nothing of the content (RFC 1952, section 2.3.1: time, system); only those may differ.
    const isSame = (await textOf(bytes)) === (await textOf(await goodBackup()));
    return {
      kind,
      what,
      outcome: 'taken as it says',
      wrong: isSame ? null : 'a changed backup was taken in',
    };
  } catch (error) {
    return { kind, what, outcome: 'refused', wrong: `thrown: ${String(error).slice(0, 120)}` };
  }
}

function refusal(kind: string, what: string, sentence: string): HostileRun {
  const isSentence = /^[A-Z].{20,600}\.$/su.test(sentence) && !/undefined|\[object|NaN/.test(sentence);
  return {
    kind,
    what,
    outcome: 'refused',
    wrong: isSentence ? null : `no sentence: ${sentence.slice(0, 80)}`,
  };
}

async function goodPackage(): Promise<Uint8Array> {
  const record = readRecord(SAMPLES.record);
  const plan = readPlan(SAMPLES.plan);
  if (!record.ok || !plan.ok) throw new Error('The samples cannot be read.');
  const files = [
    fileOf({ kind: 'plan', plan: plan.plan }),
    fileOf({ kind: 'record', record: record.record }),
  ];
  const heading = {
    id: record.record.id,
    writtenAt: record.record.createdAt,
    software: { name: 'Forearmed', version: '0.1.0' },
    label: 'Invented',
  };
  const parts: Uint8Array<ArrayBuffer>[] = [];
  for await (const part of packageParts(heading, files)) parts.push(part);
  return new Uint8Array(await new Blob(parts).arrayBuffer());
}

async function goodBackup(): Promise<Uint8Array<ArrayBuffer>> {
  const record = readRecord(SAMPLES.record);
  const plan = readPlan(SAMPLES.plan);
  if (!record.ok || !plan.ok) throw new Error('The samples cannot be read.');
  const file = await packLines(
    (async function* () {
      yield headLine(record.record.createdAt, { name: 'Forearmed', version: '0.1.0' });
      yield itemLine({ kind: 'plan', value: plan.plan });
      yield itemLine({ kind: 'record', value: record.record });
      yield endLine({ plan: 1, record: 1 });
    })(),
  );
  return new Uint8Array(await file.arrayBuffer());
}

async function textOf(bytes: Uint8Array<ArrayBuffer>): Promise<string> {
  let text = '';
  for await (const line of unpackLines(new Blob([bytes]))) text += `${line}\n`;
  return text;
}
