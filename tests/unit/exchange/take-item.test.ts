import { beforeEach, describe, expect, it } from 'vitest';
import { MemoryExchangeStore } from '../../../src/adapters/storage/memory-exchange-store.ts';
import { MemoryPlanStore } from '../../../src/adapters/storage/memory-plan-store.ts';
import { MemoryReviewStore } from '../../../src/adapters/storage/memory-review-store.ts';
import { MemorySessionStore } from '../../../src/adapters/storage/memory-session-store.ts';
import type { PackageItem } from '../../../src/core/exchange/package-items.ts';
import { readItem } from '../../../src/core/exchange/package-items.ts';
import { contentsOf } from '../../../src/core/exchange/person-contents.ts';
import { exchangeItem, takeItem, type Stores, type Taken } from '../../../src/core/exchange/take-item.ts';
import { takenSentence } from '../../../src/core/feedback/exchange-words.ts';
import type { TrainingDay } from '../../../src/core/plan/training-day.ts';
import { dayOn, inventedPlan, PLAN_ID } from '../../helpers/plan-days.ts';
import { sampleItems, sampleRecord, SAMPLE_MOMENT } from '../../helpers/sample-package.ts';

const ARRIVAL = { fileName: 'one.age', cameAt: SAMPLE_MOMENT, newestBefore: new Map<string, number>() };
let stores: Stores;

beforeEach(() => {
  stores = {
    sessions: new MemorySessionStore(),
    plans: new MemoryPlanStore(),
    reviews: new MemoryReviewStore(),
    videos: null,
    exchange: new MemoryExchangeStore(),
  };
});

async function take(item: PackageItem): Promise<Taken> {
  const taken = await takeItem(item, ARRIVAL, stores);
  if (!taken.ok) throw new Error(taken.problem);
  return taken.value;
}

async function takeAll(): Promise<Taken[]> {
  const taken: Taken[] = [];
  for (const item of sampleItems()) taken.push(await take(item));
  return taken;
}

async function keptDay(id: string): Promise<TrainingDay | null> {
  const kept = await stores.plans.loadDay(id);
  return kept.ok ? kept.value : null;
}

const day = dayOn(inventedPlan(), '03-02');

describe('taking in', () => {
  it('keeps what is new, and the same package again changes nothing', async () => {
    expect(await takeAll()).toEqual(['new', 'new', 'new', 'new', 'new', 'not-kept']);
    const before = await contentsOf({ kind: 'everybody' }, stores);
    expect(await takeAll()).toEqual(['same', 'same', 'same', 'same', 'same', 'not-kept']);
    expect(await contentsOf({ kind: 'everybody' }, stores)).toEqual(before);
  });

  it('takes a day that was answered further, and leaves an earlier state of it aside', async () => {
    const evening = { ...day, nextMorning: null };
    expect(await take({ kind: 'day', day: evening })).toBe('new');
    expect(await take({ kind: 'day', day })).toBe('renewed');
    expect(await take({ kind: 'day', day: evening })).toBe('same');
    expect(await keptDay(day.id)).toEqual(day);
  });

  it('takes a session that went on, and leaves an earlier state of it aside', async () => {
    const record = sampleRecord();
    const [set] = record.sets;
    if (set === undefined) throw new Error('no set');
    const begun = { ...record, sets: [{ ...set, answers: { ...set.answers, painAfter: null } }] };
    const goneOn = { ...record, sets: [...record.sets, set] };
    expect(await take({ kind: 'record', record: begun })).toBe('new');
    expect(await take({ kind: 'record', record: goneOn })).toBe('renewed');
    expect(await take({ kind: 'record', record: begun })).toBe('same');
    expect(await stores.sessions.loadSession(record.id)).toEqual({ ok: true, value: goneOn });
    expect(await take({ kind: 'record', record: { ...goneOn, sets: [set, { ...set, cutOff: true }] } })).toBe(
      'beside',
    );
  });

  it('keeps both where the same thing says something else, once each', async () => {
    const other = { ...day, painBefore: 7 };
    await take({ kind: 'day', day });
    expect(await take({ kind: 'day', day: other })).toBe('beside');
    expect(await take({ kind: 'day', day: other })).toBe('beside');
    expect(await keptDay(day.id)).toEqual(day);
    const beside = await stores.exchange.listBeside();
    if (!beside.ok) throw new Error(beside.problem);
    expect(beside.value).toHaveLength(1);
    const [row] = beside.value;
    expect(row && (await readItem(row.entry, row.content))).toEqual({
      ok: true,
      value: { kind: 'day', day: other },
    });
  });

  it.each<[string, PackageItem, PackageItem]>([
    [
      'a session',
      { kind: 'record', record: sampleRecord() },
      { kind: 'record', record: { ...sampleRecord(), createdAt: '2026-01-01T10:00:00Z' } },
    ],
    [
      'a version of a plan',
      { kind: 'plan', plan: inventedPlan() },
      { kind: 'plan', plan: { ...inventedPlan(), reason: 'Other.' } },
    ],
  ])('keeps both of %s', async (_, one, other) => {
    await take(one);
    expect(await take(other)).toBe('beside');
    expect(await take(one)).toBe('same');
  });

  it('exchanges what stands beside for what is kept, and back, without losing either', async () => {
    const other = { ...day, painBefore: 7 };
    await take({ kind: 'day', day });
    await take({ kind: 'day', day: other });
    for (const [now, then] of [
      [other, day],
      [day, other],
    ]) {
      const beside = await stores.exchange.listBeside();
      const [row] = beside.ok ? beside.value : [];
      if (row === undefined || now === undefined) throw new Error('Nothing stands beside.');
      expect(await exchangeItem({ kind: 'day', day: now }, row.key, ARRIVAL, stores)).toMatchObject({
        ok: true,
      });
      expect(await keptDay(day.id)).toEqual(now);
      const after = await stores.exchange.listBeside();
      const [left, ...more] = after.ok ? after.value : [];
      expect(more).toEqual([]);
      expect(left && (await readItem(left.entry, left.content))).toEqual({
        ok: true,
        value: { kind: 'day', day: then },
      });
    }
  });

  it('lists everything of one person, and nothing of another', async () => {
    await takeAll();
    const mine = await contentsOf({ kind: 'plan', planId: PLAN_ID }, stores);
    expect(mine).toMatchObject({
      ok: true,
      value: { plans: { length: 1 }, days: { length: 2 }, decisions: { length: 1 }, sessions: [] },
    });
    // The sample's session followed a plan that is not kept here.
    const nobodys = await contentsOf({ kind: 'no-plan' }, stores);
    expect(nobodys).toMatchObject({
      ok: true,
      value: { plans: [], days: [], sessions: [{ id: sampleRecord().id }] },
    });
  });
});

describe('what became of a package', () => {
  const none = { new: 0, same: 0, renewed: 0, waits: 0, beside: 0, 'not-kept': 0 };

  it.each([
    [{ ...none, new: 3 }, 0, 'A: 3 new.'],
    [{ ...none, same: 3 }, 0, 'A: everything in it is kept here already; nothing changed.'],
    [
      { ...none, new: 2, same: 1, renewed: 1 },
      0,
      'A: 2 new, 1 renewed, because the package tells more, 1 kept here already.',
    ],
  ])('%o', (counts, unreadable, sentence) => {
    expect(takenSentence('A', counts, unreadable)).toBe(sentence);
  });

  it('says that a newer version of the plan waits, and that nothing changes before', () => {
    expect(takenSentence('A', { ...none, same: 2, waits: 1 }, 0)).toBe(
      'A: 2 kept here already. A newer version of the plan waits for your decision: until then nothing changes.',
    );
  });

  it('is said in full where something was left out or kept beside', () => {
    const sentence = takenSentence('A', { ...none, beside: 2, 'not-kept': 1 }, 1);
    expect(sentence).toMatch(/both are kept|all are kept/);
    expect(sentence).toMatch(/1 video was left out/);
    expect(sentence).toMatch(/1 thing in it could not be read and was left out/);
  });
});
