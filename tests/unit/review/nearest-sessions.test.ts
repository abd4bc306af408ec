import { describe, expect, it } from 'vitest';
import { MOST_CHOICES, nearestSessions } from '../../../src/core/review/nearest-sessions.ts';
import { listedFacts } from '../../../src/core/session/session-listing.ts';
import type { SessionListing } from '../../../src/core/session/session-store.ts';
import { sampleHeader } from '../session/sample-session.ts';

const FIRST_MS = Date.UTC(2026, 0, 1);
const DAY_MS = 86_400_000;
const header = sampleHeader('body-curl');
const PLAN = { planId: 'own', planVersion: 1, stageKey: 'a', exerciseKey: 'b', dayId: 'c' };

function listing(day: number, planId: string | null = null): SessionListing {
  const createdAt = new Date(FIRST_MS + day * DAY_MS).toISOString();
  const plan = planId === null ? null : { ...PLAN, planId };
  return {
    ...listedFacts({ ...header, id: `${planId ?? 'none'} ${day}`, createdAt, plan }, []),
    state: 'finished',
    cutOffSeconds: 0,
  };
}

const at = (day: number, planId: string | null = null) => ({ ...header, ...listing(day, planId) });
const days = (count: number, planId: string | null = null): SessionListing[] =>
  Array.from({ length: count }, (_, day) => listing(day, planId));

describe('what a session is compared with', () => {
  it('is all there is while that is few, the newest first, without itself', () => {
    const { nearest, left } = nearestSessions(days(5), at(2));
    expect(nearest.map(({ id }) => id)).toEqual(['none 4', 'none 3', 'none 1', 'none 0']);
    expect(left).toBe(0);
  });

  it('is of thousands the nearest in time', () => {
    const { nearest, left } = nearestSessions(days(3000), at(1000));
    const half = MOST_CHOICES / 2;
    expect(nearest.map(({ id }) => id)).toEqual(
      Array.from({ length: MOST_CHOICES + 1 }, (_, place) => `none ${1000 + half - place}`).filter(
        (id) => id !== 'none 1000',
      ),
    );
    expect(left).toBe(2999 - MOST_CHOICES);
  });

  it('is of the same plan first, so that the first one is nobody else’s', () => {
    const others = days(100, 'other');
    const own = [listing(3, 'own'), listing(60, 'own')];
    const { nearest } = nearestSessions([...others, ...own], at(30, 'own'));
    expect(nearest.slice(0, 3).map(({ id }) => id)).toEqual(['own 60', 'own 3', 'other 48']);
  });

  it('is finished and of the same exercise', () => {
    const hold = { ...listing(1), exercise: 'hold' as const };
    const open = { ...listing(2), state: 'unfinished' as const };
    expect(nearestSessions([hold, open], at(5)).nearest).toEqual([]);
  });
});
