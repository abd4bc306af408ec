import { describe, expect, it } from 'vitest';
import { MemorySessionStore } from '../../../src/adapters/storage/memory-session-store.ts';
import {
  OPEN_SET,
  setsDone,
  withLastSet,
  withoutLastSet,
  withSet,
} from '../../../src/core/plan/day-course.ts';
import { beginDay } from '../../../src/core/plan/day-turns.ts';
import { currentStage } from '../../../src/core/plan/plan.ts';
import { trainingDaySchema, type TrainingDay } from '../../../src/core/plan/training-day.ts';
import { SessionRecorder } from '../../../src/core/session/recorder.ts';
import type { SessionHeader } from '../../../src/core/session/session-record.ts';
import type { SessionListing } from '../../../src/core/session/session-store.ts';
import { withSetsOfRecord } from '../../../src/core/session/unnoted-sets.ts';
import { withUnnotedSets } from '../../../src/state/unnoted-sets.ts';
import { inventedPlan } from '../../helpers/plan-days.ts';
import { holdFilm, recordOf, sampleHeader } from './sample-session.ts';

const plan = inventedPlan();
const [hold] = currentStage(plan).exercises;
if (hold === undefined) throw new Error('The plan that stands ready begins with no exercise.');
const DAY_ID = 'c4a9e6d2-58b1-4f37-9d0e-71b3f2a8c590';
const fresh = beginDay(plan, DAY_ID, '2026-03-02T18:00:00+01:00');
const header: SessionHeader = {
  ...sampleHeader('hold'),
  plan: {
    planId: plan.id,
    planVersion: plan.version,
    stageKey: plan.stageKey,
    exerciseKey: hold.key,
    dayId: DAY_ID,
  },
};
const record = recordOf([holdFilm(6), holdFilm(5, 90, 8), holdFilm(4, 90, 9)], header);
const of = { exerciseKey: hold.key, exercise: 'hold', recordId: record.id } as const;

/** The day as it was noted while the first sets were done. */
function noted(count: number): TrainingDay {
  return Array.from({ length: count }).reduce<TrainingDay>(
    (day) => withLastSet(withSet(day, of, OPEN_SET), { painAfter: 2, effort: 5 }),
    fresh,
  );
}
const heldSeconds = (day: TrainingDay): (number | null)[] =>
  setsDone(day, hold.key).map(({ measured }) => Math.round(measured?.heldSeconds ?? -1));

describe('sets that a crash kept from being noted', () => {
  it('come from the record with what was measured and answered', () => {
    const sets = record.sets.map((set, index) =>
      index === 0 ? { ...set, answers: { ...set.answers, painAfter: 3, effort: 6 } } : set,
    );
    const day = withSetsOfRecord(fresh, { ...record, sets });
    expect(heldSeconds(day)).toEqual([6, 5, 4]);
    expect(setsDone(day, hold.key)[0]).toMatchObject({ painAfter: 3, effort: 6, saidDone: null });
    expect(trainingDaySchema.parse(day)).toEqual(day);
  });

  it('are only those after the ones that were noted, however often it is looked', () => {
    const day = withSetsOfRecord(noted(2), record);
    expect(heldSeconds(day)).toEqual([-1, -1, 4]);
    expect(withSetsOfRecord(day, record)).toEqual(day);
  });

  it('are not those of another day', () => {
    const other = { ...fresh, id: plan.id };
    expect(withSetsOfRecord(other, record)).toBe(other);
    expect(withSetsOfRecord(fresh, { ...record, plan: null })).toBe(fresh);
  });
});

describe('a set that was none', () => {
  it('does not come back from the record', () => {
    const three = withSetsOfRecord(fresh, record);
    const dropped = withoutLastSet(three);
    expect(withSetsOfRecord(dropped, record)).toBe(dropped);
    expect(heldSeconds(dropped)).toEqual([6, 5]);
  });

  it('takes no other set with it, and doubles none, when the page crashes after the next', () => {
    const first = withoutLastSet(noted(1));
    expect(first.exercises).toEqual([]);
    expect(heldSeconds(withSetsOfRecord(first, record))).toEqual([5, 4]);
    const second = withSet(first, of, OPEN_SET);
    expect(heldSeconds(withSetsOfRecord(second, record))).toEqual([-1, 4]);
  });

  it('is remembered by the day through a file', () => {
    const dropped = withoutLastSet(noted(1));
    const read = trainingDaySchema.parse(JSON.parse(JSON.stringify(dropped)));
    expect(read).toEqual(dropped);
    const whole = { ...record, sets: record.sets.slice(0, 1) };
    expect(withSetsOfRecord(read, whole)).toBe(read);
  });
});

/** The store for the visit, whose open sessions count as broken off: the page that recorded them is gone. */
class AfterClosing extends MemorySessionStore {
  override async listSessions(): ReturnType<MemorySessionStore['listSessions']> {
    const listed = await super.listSessions();
    if (!listed.ok) return listed;
    const gone = ({ state, ...rest }: SessionListing): SessionListing => ({
      ...rest,
      state: state === 'recording' ? 'unfinished' : state,
    });
    return { ok: true, value: listed.value.map(gone) };
  }
}

describe('a tab that is closed in the middle of a set', () => {
  async function recordedInto(store: MemorySessionStore): Promise<void> {
    let seconds = 100;
    const recorder = new SessionRecorder({
      store,
      header,
      nowSeconds: () => seconds,
      onProblem: (problem) => expect(problem).toBeNull(),
    });
    recorder.beginSet({ startedAt: '2026-03-02T18:10:00.000+01:00', painBefore: 3 });
    for (const frame of holdFilm(8)) {
      seconds = 100 + frame.timeSeconds;
      recorder.addFrame(frame);
    }
    await recorder.flush();
  }

  it('leaves a set that the day takes up, judged from the frames that were kept, once', async () => {
    const store = new AfterClosing();
    await recordedInto(store);
    const day = await withUnnotedSets(fresh, store);
    expect(setsDone(day, hold.key)).toHaveLength(1);
    expect(setsDone(day, hold.key)[0]?.measured?.heldSeconds).toBeGreaterThan(6);
    expect(setsDone(day, hold.key)[0]).toMatchObject({ painAfter: null, effort: null });
    expect(await withUnnotedSets(day, store)).toBe(day);
    const none = withoutLastSet(day);
    expect(await withUnnotedSets(none, store)).toBe(none);
  });

  it('leaves alone what another tab still records', async () => {
    const store = new MemorySessionStore();
    await recordedInto(store);
    expect(await withUnnotedSets(fresh, store)).toBe(fresh);
  });
});
