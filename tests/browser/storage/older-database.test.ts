import { readFileSync } from 'node:fs';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { StorageBrowser } from './storage-browser.ts';

let browser: StorageBrowser;

beforeAll(async () => {
  browser = await StorageBrowser.open();
});
afterAll(() => browser.close());

/** A record as version 2 of the database kept it, split into the rows that were written then. */
const record = JSON.parse(
  readFileSync(new URL('../../fixtures/records/v4-body-curl.record.json', import.meta.url), 'utf8'),
) as Record<string, unknown> & { id: string; sets: Record<string, unknown>[] };

describe('a database of version 2', () => {
  it('opens with all its sessions and plans, and lists them', async () => {
    const page = await browser.newPage();
    const result = await page.evaluate(async ({ sets, ...header }) => {
      const parts = window.storageParts;
      if (!parts) throw new Error('no page');
      const old = new parts.Dexie('forearmed');
      // The tables as version 2 declared them.
      old.version(2).stores({
        sessions: 'id',
        sets: '[sessionId+setIndex]',
        pieces: '[sessionId+setIndex+pieceIndex]',
        plans: '[planId+version]',
        days: 'id, planId',
        decisions: 'id, planId',
        desk: 'key',
      });
      const plan = parts.plans.inventedPlan();
      await old.table('plans').put({ planId: plan.id, version: plan.version, plan });
      const brokenOff = '11111111-2222-4333-8444-555555555555';
      for (const [id, finished] of [
        [header.id, true],
        [brokenOff, false],
      ] as const) {
        await old.table('sessions').put({ id, header: { ...header, id }, finished });
        for (const [setIndex, { startedAt, answers, cutOff, frames, ...findings }] of sets.entries()) {
          const beginning = { startedAt, painBefore: (answers as { painBefore: number | null }).painBefore };
          const ended = finished ? { findings, answers } : { findings: null, answers: null };
          await old.table('sets').put({ sessionId: id, setIndex, beginning, cutOff, ...ended });
          await old.table('pieces').put({ sessionId: id, setIndex, pieceIndex: 0, frames });
        }
      }
      old.close();

      const { store, plans, problem } = await parts.openSessionStore();
      const shares: number[] = [];
      const first = await store.listSessions((share) => shares.push(share));
      const db = new parts.SessionDatabase();
      const kept = await db.listings.toArray();
      const second = await store.listSessions((share) => shares.push(share));
      const loaded = await store.loadSession(header.id);
      const listedPlans = await plans.listPlans();
      if (!first.ok || !second.ok || !loaded.ok || !listedPlans.ok) throw new Error('not read');
      return {
        problem,
        version: db.verno,
        states: first.value.map(({ id, state, setCount }) => [id, state, setCount]),
        repetitions: first.value.find(({ id }) => id === header.id)?.whole.repetitions,
        keptListings: kept.map(({ id }) => id),
        isSame: JSON.stringify(first.value) === JSON.stringify(second.value),
        sharesHeard: shares[0],
        sets: loaded.value.sets.length,
        plans: listedPlans.value.length,
      };
    }, record);
    expect(result).toEqual({
      problem: null,
      version: 3,
      states: expect.arrayContaining([
        [record.id, 'finished', record.sets.length],
        ['11111111-2222-4333-8444-555555555555', 'unfinished', 0],
      ]),
      repetitions: record.sets.flatMap((set) =>
        (set['judgement'] as { repetitions: { partial: boolean }[] }).repetitions.filter(
          ({ partial }) => !partial,
        ),
      ).length,
      keptListings: [record.id],
      isSame: true,
      sharesHeard: 0,
      sets: record.sets.length,
      plans: 1,
    });
    await page.close();
  });
});
