import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { MemoryExchangeStore } from '../../../src/adapters/storage/memory-exchange-store.ts';
import { MemoryPlanStore } from '../../../src/adapters/storage/memory-plan-store.ts';
import { MemoryReviewStore } from '../../../src/adapters/storage/memory-review-store.ts';
import { MemorySessionStore } from '../../../src/adapters/storage/memory-session-store.ts';
import { packLines, unpackLines } from '../../../src/adapters/backup/backup-file.ts';
import {
  endLine,
  headLine,
  itemLine,
  type AsideValue,
  type BackupItem,
} from '../../../src/core/backup/backup-lines.ts';
import { contentId } from '../../../src/core/backup/restore.ts';
import {
  readBackup,
  takeInBackup,
  type BackupTargets,
  type RestoreReport,
} from '../../../src/core/backup/take-in-backup.ts';
import { backupSentence } from '../../../src/core/feedback/backup-words.ts';
import { readRecord } from '../../../src/core/session/migrations.ts';
import type { SessionRecord } from '../../../src/core/session/session-record.ts';
import { dayOn, inventedPlan } from '../../helpers/plan-days.ts';

const reading = readRecord(
  readFileSync(new URL('../../fixtures/records/v4-body-curl.record.json', import.meta.url), 'utf8'),
);
if (!reading.ok) throw new Error('no sample');
const record = reading.record;
const plan = inventedPlan();
const day = { ...dayOn(plan, '03-02'), id: '5a0c1d52-6f0b-4a9e-8b3e-2f7d1c9a4e01' };

const SOFTWARE = { name: 'Forearmed', version: '0.1.0' };
const ITEMS: readonly BackupItem[] = [
  { kind: 'plan', value: plan },
  { kind: 'day', value: day },
  { kind: 'followed', value: plan.id },
  { kind: 'record', value: record },
  { kind: 'aside', value: { table: 'days', key: 'x', value: { day: 'not a day' } } },
];

async function* linesOf(items: readonly BackupItem[]): AsyncGenerator<string> {
  const counts: Partial<Record<BackupItem['kind'], number>> = {};
  yield headLine('2026-03-09T10:00:00+01:00', SOFTWARE);
  for (const item of items) {
    counts[item.kind] = (counts[item.kind] ?? 0) + 1;
    yield itemLine(item);
  }
  yield endLine(counts);
}

const file = (items: readonly BackupItem[] = ITEMS): Promise<Blob> => packLines(linesOf(items));

function freshTargets(): BackupTargets & { readonly aside: Map<string, AsideValue> } {
  const aside = new Map<string, AsideValue>();
  return {
    sessions: new MemorySessionStore(),
    plans: new MemoryPlanStore(),
    reviews: new MemoryReviewStore(),
    videos: null,
    aside,
    setAside: async (id, value) => {
      const isNew = !aside.has(id);
      aside.set(id, value);
      return { ok: true, value: isNew };
    },
    exchange: new MemoryExchangeStore(),
    takeKey: async () => ({ ok: true, value: 'locked' }),
    setSessionAside: async () => {
      throw new Error('No session here is unreadable.');
    },
    takePreferences: () => 'left',
  };
}

async function restored(backup: Blob, targets: BackupTargets): Promise<RestoreReport> {
  const read = await readBackup(unpackLines(backup), { isCancelled: () => false });
  if (!read.ok) throw new Error(read.problem.kind);
  return takeInBackup(unpackLines(backup), {
    content: read.content,
    targets,
    watch: { onShare: () => undefined, isCancelled: () => false },
  });
}

async function listed(targets: BackupTargets): Promise<string[]> {
  const all = await targets.sessions.listSessions();
  if (!all.ok) throw new Error(all.detail);
  return all.value.map(({ id }) => id).sort();
}

describe('a backup', () => {
  it('brings back everything into an empty store, as it was', async () => {
    const targets = freshTargets();
    const report = await restored(await file(), targets);
    expect(report).toEqual({
      counts: { added: 5, same: 0, 'kept-both': 0, left: 0, locked: 0 },
      stopped: null,
    });
    expect(await targets.sessions.loadSession(record.id)).toEqual({ ok: true, value: record });
    expect(await targets.plans.followed()).toEqual({ ok: true, value: plan });
    expect(await targets.plans.loadDay(day.id)).toEqual({ ok: true, value: day });
    expect([...targets.aside.values()]).toEqual([{ table: 'days', key: 'x', value: { day: 'not a day' } }]);
  });

  it('changes nothing when it is restored twice', async () => {
    const targets = freshTargets();
    const backup = await file();
    await restored(backup, targets);
    const again = await restored(backup, targets);
    expect(again.counts).toEqual({ added: 0, same: 5, 'kept-both': 0, left: 0, locked: 0 });
    expect(await listed(targets)).toEqual([record.id]);
  });

  it('keeps both where something else is kept under the same name, however often it is restored', async () => {
    const targets = freshTargets();
    const other: SessionRecord = { ...record, createdAt: '2026-01-01T08:00:00.000+01:00' };
    const otherPlan = { ...plan, person: { ...plan.person, label: 'Another' } };
    await targets.sessions.importRecord(other);
    await targets.plans.keepVersion(otherPlan);
    const backup = await file();
    const first = await restored(backup, targets);
    expect(first.counts['kept-both']).toBe(2);
    await restored(backup, targets);
    expect(await listed(targets)).toEqual([contentId(record), record.id].sort());
    expect(await targets.sessions.loadSession(record.id)).toEqual({ ok: true, value: other });
    expect(await targets.plans.loadVersion(plan.id, plan.version)).toEqual({ ok: true, value: otherPlan });
    const plans = await targets.plans.listPlans();
    expect(plans.ok && plans.value.length).toBe(2);
  });

  it('keeps the later state of a training day, and sets the other aside', async () => {
    const targets = freshTargets();
    const later = { ...day, endedAt: `${day.startedAt.slice(0, 10)}T23:00:00+01:00` };
    await targets.plans.putDay(later);
    const report = await restored(await file([{ kind: 'day', value: day }]), targets);
    expect(report.counts['kept-both']).toBe(1);
    expect(await targets.plans.loadDay(day.id)).toEqual({ ok: true, value: later });
    expect([...targets.aside.values()]).toEqual([{ table: 'days', key: day.id, value: day }]);
  });

  it('goes on where it was stopped', async () => {
    const targets = freshTargets();
    const backup = await file();
    const read = await readBackup(unpackLines(backup), { isCancelled: () => false });
    if (!read.ok) throw new Error('not read');
    let steps = 0;
    const stopped = await takeInBackup(unpackLines(backup), {
      content: read.content,
      targets,
      watch: { onShare: () => (steps += 1), isCancelled: () => steps === 2 },
    });
    expect(stopped.stopped).toBe('cancelled');
    expect((await restored(backup, targets)).counts).toMatchObject({ added: 3, same: 2 });
  });
});

describe('a backup that is not what was made', () => {
  const problemOf = async (backup: Blob): Promise<string> => {
    const read = await readBackup(unpackLines(backup), { isCancelled: () => false }).catch(String);
    if (typeof read === 'string') return read;
    if (read.ok) return 'read';
    expect(backupSentence(read.problem)).toMatch(/\. Nothing was changed\.$/);
    return read.problem.kind;
  };

  it('is refused when it is cut, wherever', async () => {
    const bytes = await (await file()).arrayBuffer();
    for (const share of [0, 0.01, 0.3, 0.6, 0.9, 0.999]) {
      const cut = new Blob([bytes.slice(0, Math.floor(bytes.byteLength * share))]);
      expect(await problemOf(cut)).toMatch(/^(not-ours|cut-or-changed)$/);
    }
  });

  it('is refused when any byte is changed', async () => {
    const bytes = new Uint8Array(await (await file()).arrayBuffer());
    for (let at = 10; at < bytes.length; at += Math.ceil(bytes.length / 40)) {
      const changed = bytes.slice();
      changed[at] = (changed[at] ?? 0) ^ 0x41;
      expect(await problemOf(new Blob([changed]))).not.toBe('read');
    }
  });

  it('is refused when lines are missing, doubled or follow the end', async () => {
    const lines: string[] = [];
    for await (const line of linesOf(ITEMS)) lines.push(line);
    const packed = (some: readonly string[]): Promise<Blob> =>
      packLines(
        (async function* () {
          yield* some;
        })(),
      );
    expect(await problemOf(await packed(lines))).toBe('read');
    expect(await problemOf(await packed(lines.slice(0, -1)))).toBe('cut-or-changed');
    expect(await problemOf(await packed(lines.toSpliced(2, 1)))).toBe('cut-or-changed');
    expect(await problemOf(await packed([...lines.slice(0, 3), ...lines.slice(2)]))).toBe('cut-or-changed');
    expect(await problemOf(await packed([...lines, ...lines.slice(1, 2)]))).toBe('cut-or-changed');
    expect(await problemOf(await packed(lines.slice(1)))).toBe('not-ours');
    expect(await problemOf(new Blob(['{}']))).toBe('not-ours');
    const newer = headLine('2026-03-09T10:00:00+01:00', SOFTWARE).replace(
      '"schemaVersion":2',
      '"schemaVersion":3',
    );
    expect(await problemOf(await packed([newer, ...lines.slice(1)]))).toBe('newer-version');
    expect(
      await problemOf(await packed([lines[0] ?? '', '{"kind":"record","value":{}}', endLine({ record: 1 })])),
    ).toBe('damaged');
  });
});
