import type { FlagKind } from '../exercises/judgement.ts';
import { dayOf, instantSeconds } from '../plan/calendar.ts';
import { isDealtWith, mayHoldsStart, type HoldClearance } from '../plan/may-start.ts';
import { nextMorningCeiling, painCeiling, worstPain } from '../plan/pain.ts';
import type { TrainingDay } from '../plan/training-day.ts';
import { followedVersion } from '../plan/plan-versions.ts';
import { weighDay, type WeighedDay } from '../plan/weigh-day.ts';
import { weighPlan } from '../plan/weigh-plan.ts';
import { weekView, type Week } from '../plan/weeks.ts';
import { faultsOf, type Fault } from './faults.ts';
import { lastSeconds, planOf, type CameIn, type Person } from './people.ts';

/**
 * What a therapist is asked to look at, the most urgent kind first. The order is the tool's own: safety before pain,
 * both before how the training went, that before what merely waits.
 */
export const NEED_KINDS = [
  'red-flag',
  'pain',
  'holds-wait',
  'days-off',
  'missed',
  'hand-rose',
  'shoulder-led',
  'noticed',
  'low-share',
  'may-advance',
  'not-signed',
] as const;
export type NeedKind = (typeof NEED_KINDS)[number];

/** Days from a week's Monday to its Sunday. */
const SUNDAY = 6;

/** One reason to look at a person first; feedback/need-words.ts says it. */
export type Need =
  /** A question before a session was answered with yes, and no therapist has dealt with it since. The newest last. */
  | { readonly kind: 'red-flag'; readonly days: readonly TrainingDay[] }
  /** Pain above the ceiling since the last decision. The newest last. */
  | { readonly kind: 'pain'; readonly days: readonly WeighedDay[] }
  | { readonly kind: 'holds-wait'; readonly clearance: HoldClearance }
  | { readonly kind: 'days-off'; readonly daysOff: number; readonly allowed: number }
  | { readonly kind: 'missed'; readonly week: Week }
  /** Judged in sessions that nobody signed, since the last decision. The newest first. */
  | { readonly kind: 'hand-rose' | 'shoulder-led' | 'low-share'; readonly faults: readonly Fault[] }
  | { readonly kind: 'noticed'; readonly flag: FlagKind; readonly faults: readonly Fault[] }
  /** The plan's rules propose to go on: a decision waits. */
  | { readonly kind: 'may-advance'; readonly goodDays: number }
  /** The newest first. */
  | { readonly kind: 'not-signed'; readonly sessions: readonly CameIn[] };

/** A person with what asks for a look, the most urgent first. */
export interface PersonNeeds {
  readonly person: Person;
  readonly needs: readonly Need[];
}

/**
 * What asks for a look, the most urgent first. A decision deals with pain, missed days and faults before it; a
 * signature deals with the faults of its session, and with nothing that is a matter of safety. Where the plan is followed on
 * this machine nobody is asked to sign: that is done where the therapist works.
 * @param moment - now, with offset
 */
export function needsOf(person: Person, moment: string): Need[] {
  const since = person.decisions.at(-1)?.decidedAt ?? null;
  const needs = [...planNeeds(person, moment, since), ...faultNeeds(person, since)];
  const open = person.sessions.filter(
    ({ listing, signedAt }) => listing.state === 'finished' && signedAt === null,
  );
  if (open.length > 0 && !person.isFollowedHere) needs.push({ kind: 'not-signed', sessions: open });
  return needs.sort(byUrgency);
}

/**
 * Puts people in order, who needs a look first at the front: by the kind of the most urgent need, then by how much of it
 * there is, then by the next needs, then who came last. Always the same order for the same people.
 */
export function inNeedOrder(people: readonly PersonNeeds[]): PersonNeeds[] {
  return people
    .map((each) => ({ each, at: lastSeconds(each.person) }))
    .sort(
      (a, b) =>
        compareNeeds(a.each.needs, b.each.needs) ||
        b.at - a.at ||
        (a.each.person.key < b.each.person.key ? -1 : 1),
    )
    .map(({ each }) => each);
}

/** Everyone with their needs at a moment, in that order. */
export function byNeed(people: readonly Person[], moment: string): PersonNeeds[] {
  return inNeedOrder(people.map((person) => ({ person, needs: needsOf(person, moment) })));
}

/** How urgent a kind is: 0 for the most urgent. */
export function urgencyOf({ kind }: Need): number {
  return NEED_KINDS.indexOf(kind);
}

function planNeeds(person: Person, moment: string, since: string | null): Need[] {
  const plan = planOf(person);
  if (plan === null) return [];
  const { versions, days, decisions } = person;
  const needs: Need[] = [];
  const flagged = days.filter(
    (day) => day.safetyYes.length > 0 && !isDealtWith(day, { versions, decisions }),
  );
  if (flagged.length > 0) needs.push({ kind: 'red-flag', days: flagged });
  const painful = days
    .filter(isAfter(since))
    .map((day) => weighDay(followedVersion(versions, day) ?? plan, day, moment))
    .filter(({ isBad }) => isBad);
  if (painful.length > 0) needs.push({ kind: 'pain', days: painful });
  const weighed = weighPlan(plan, days, moment, { versions, decisions });
  for (const ground of weighed.grounds)
    if (ground.kind === 'days-off')
      needs.push({ kind: 'days-off', daysOff: ground.daysOff, allowed: ground.allowed });
  const clearance = mayHoldsStart(plan);
  if (weighed.grounds.some(({ kind }) => kind === 'holds-wait') && isForTherapist(clearance))
    needs.push({ kind: 'holds-wait', clearance });
  const week = weekView(versions, days, moment).findLast(({ missedDays }) => missedDays !== null);
  // Who does not train at all misses every day: that is said once.
  const isAway = needs.some(({ kind }) => kind === 'days-off');
  if (week?.missedDays && !isAway && (since === null || week.monday + SUNDAY >= dayOf(since)))
    needs.push({ kind: 'missed', week });
  if (weighed.direction === 'advance') {
    const good = weighed.grounds.find((ground) => ground.kind === 'good-days');
    needs.push({ kind: 'may-advance', goodDays: good?.days.length ?? 0 });
  }
  return needs;
}

/** Whether holds wait for a decision of the therapist; questions not yet asked wait for the patient. */
function isForTherapist(clearance: HoldClearance): boolean {
  return !clearance.mayStart && clearance.because === 'waits-for-therapist';
}

function faultNeeds(person: Person, since: string | null): Need[] {
  const faults = faultsOf(person).filter(isAfter(since));
  const kinds = ['hand-rose', 'shoulder-led', 'low-share'] as const;
  const named = kinds.flatMap((kind): Need[] => {
    const those = faults.filter((fault) => fault.kind === kind);
    return those.length === 0 ? [] : [{ kind, faults: those }];
  });
  const flags = [...new Set(faults.flatMap(({ flag }) => flag ?? []))];
  const noticed = flags.map((flag): Need => {
    const those = faults.filter((fault) => fault.flag === flag);
    return { kind: 'noticed', flag, faults: those };
  });
  return [...named, ...noticed];
}

/** How much of a need there is, to put needs of one kind in order; comparable within a kind only. */
function weightOf(need: Need): number {
  switch (need.kind) {
    case 'red-flag':
      return need.days.reduce((sum, { safetyYes }) => sum + safetyYes.length, 0);
    case 'pain':
      return Math.max(...need.days.map(pointsAbove));
    case 'days-off':
      return need.daysOff;
    case 'missed':
      return need.week.missedDays ?? 0;
    case 'hand-rose':
    case 'shoulder-led':
    case 'noticed':
    case 'low-share':
      return Math.max(...need.faults.map(({ weight }) => weight));
    case 'may-advance':
      return need.goodDays;
    case 'not-signed':
      return need.sessions.length;
    case 'holds-wait':
      return 0;
  }
}

/** Points of the 0 to 10 scale by which a day's pain passed its ceilings; 0 where it was ended for pain below them. */
function pointsAbove({ day, plan }: WeighedDay): number {
  const above = (rating: number | null, ceiling: number | null): number =>
    rating === null || ceiling === null ? 0 : Math.max(0, rating - ceiling);
  return Math.max(
    above(worstPain(day), painCeiling(plan, day.painBefore)),
    above(day.nextMorning?.pain ?? null, nextMorningCeiling(plan, day.painBefore)),
  );
}

function byUrgency(a: Need, b: Need): number {
  return urgencyOf(a) - urgencyOf(b) || weightOf(b) - weightOf(a);
}

/** Below 0 when the first needs are more urgent: need by need from the front; who has none left comes later. */
function compareNeeds(a: readonly Need[], b: readonly Need[]): number {
  for (let place = 0; place < Math.max(a.length, b.length); place++) {
    const [one, other] = [a[place], b[place]];
    if (one === undefined || other === undefined) return one === undefined ? 1 : -1;
    const order = byUrgency(one, other);
    if (order !== 0) return order;
  }
  return 0;
}

/** Whether something began after the last decision. */
function isAfter(since: string | null): (part: { readonly startedAt: string }) => boolean {
  const decided = since === null ? -Infinity : instantSeconds(since);
  return ({ startedAt }) => instantSeconds(startedAt) > decided;
}
