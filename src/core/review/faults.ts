import type { Exercise } from '../exercises/exercise.ts';
import { FLAG_KINDS, type FlagKind } from '../exercises/judgement.ts';
import { defaultProgressRules } from '../plan/default-figures.ts';
import { barCeiling } from '../plan/equipment-signs.ts';
import type { ProgressRules } from '../plan/progress-rules.ts';
import { followedVersion } from '../plan/plan-versions.ts';
import type { DoneExercise, TrainingDay } from '../plan/training-day.ts';
import { weighDay } from '../plan/weigh-day.ts';
import type { SessionListing } from '../session/session-store.ts';
import { planOf, type CameIn, type Person } from './people.ts';

/** From which share on something counts as a reason to look. Chosen for this tool; no published source. */
const FAULT_LIMITS = {
  /** Of a session's time, under which too little was seen of it to judge it. */
  leastMeasuredShare: 0.8,
  /** Of a session's holds and repetitions, in which something else was noticed. */
  mostNoticedShare: 0.5,
} as const;

/** Noticed in one hold or repetition, these say nothing that the other kinds of fault do not say already. */
const SAID_OTHERWISE: readonly FlagKind[] = ['hand-rising', 'shoulder-dominant'];

/** Something that was judged in a session and asks for a look. */
export interface Fault {
  readonly kind: 'hand-rose' | 'shoulder-led' | 'noticed' | 'low-share';
  /** What was noticed; null where the kind says it. */
  readonly flag: FlagKind | null;
  readonly exercise: Exercise;
  readonly startedAt: string;
  /** Null where only the training day came, without the record. */
  readonly sessionId: string | null;
  /** In how many holds or repetitions, of how many; of a low share: seconds measured, of how many. */
  readonly count: number;
  readonly of: number;
  /** How much of it there is, 0 to 1. */
  readonly weight: number;
}

/**
 * What was judged in a person's finished sessions that nobody signed, the newest first; of training days whose records
 * did not come, by the figures that the day keeps. By the limits of the plan, without one by the figures that stand ready.
 */
export function faultsOf(person: Person): Fault[] {
  const kept = new Set(person.sessions.map(({ listing }) => listing.id));
  return [
    ...person.sessions
      .filter(isOpen)
      .flatMap(({ listing }) => judgedFaults(listing, planOf(person)?.progressRules)),
    ...[...person.days]
      .reverse()
      .flatMap((day) => day.exercises.flatMap((done) => ofDay(day, done, { person, kept }))),
  ];
}

function isOpen({ listing, signedAt }: CameIn): boolean {
  return listing.state === 'finished' && signedAt === null;
}

/** What was judged in one session, by the rules of a plan or by those that stand ready. */
export function judgedFaults(
  { id, exercise, createdAt, whole }: Pick<SessionListing, 'id' | 'exercise' | 'createdAt' | 'whole'>,
  { shoulderDominantShareAllowed }: ProgressRules = defaultProgressRules(),
): Fault[] {
  const at = { exercise, startedAt: createdAt, sessionId: id };
  const parts = exercise === 'hold' ? whole.holds : whole.repetitions + whole.partialRepetitions;
  const rose = whole.flagged['hand-rising'] ?? 0;
  const led = whole.shoulderDominantRepetitions ?? 0;
  return [
    ...(rose > 0 ? [faultAt(at, 'hand-rose', rose, parts)] : []),
    ...(led > 0 && led > shoulderDominantShareAllowed * whole.judgedRepetitions
      ? [faultAt(at, 'shoulder-led', led, whole.judgedRepetitions)]
      : []),
    ...FLAG_KINDS.filter((flag) => !SAID_OTHERWISE.includes(flag)).flatMap((flag) => {
      const count = whole.flagged[flag] ?? 0;
      return count > 0 && count >= FAULT_LIMITS.mostNoticedShare * parts
        ? [{ ...faultAt(at, 'noticed', count, parts), flag }]
        : [];
    }),
    ...(whole.measuredShare !== null && whole.measuredShare < FAULT_LIMITS.leastMeasuredShare
      ? [lowShare(at, whole.measuredShare, whole.totalSeconds)]
      : []),
  ];
}

/** Of an exercise whose record is not here. Its measured share is not kept by the day. */
function ofDay(
  day: TrainingDay,
  done: DoneExercise,
  { person, kept }: { readonly person: Person; readonly kept: ReadonlySet<string> },
): Fault[] {
  const { exercise, recordId, sets } = done;
  if (recordId !== null && kept.has(recordId)) return [];
  const plan = followedVersion(person.versions, day);
  if (plan === null || exercise === 'row' || exercise === 'chin-up' || exercise === 'pulling') return [];
  const at = { exercise, startedAt: day.startedAt, sessionId: null };
  const risen = barCeiling([weighDay(plan, { ...day, exercises: [done] }, day.startedAt)]);
  const led = total(sets, ({ measured }) => measured?.shoulderDominant);
  const judged = total(sets, ({ measured }) => measured?.judgedRepetitions);
  return [
    ...(risen === null ? [] : [faultAt(at, 'hand-rose', risen.setCount, sets.length)]),
    ...(exercise === 'body-curl' && led > 0 && led > plan.progressRules.shoulderDominantShareAllowed * judged
      ? [faultAt(at, 'shoulder-led', led, judged)]
      : []),
  ];
}

type At = Pick<Fault, 'exercise' | 'startedAt' | 'sessionId'>;

function faultAt(at: At, kind: Fault['kind'], count: number, of: number): Fault {
  return { ...at, kind, flag: null, count, of, weight: of === 0 ? 1 : Math.min(1, count / of) };
}

function lowShare(at: At, share: number, totalSeconds: number): Fault {
  return {
    ...at,
    kind: 'low-share',
    flag: null,
    count: share * totalSeconds,
    of: totalSeconds,
    weight: 1 - share,
  };
}

function total<Item>(items: readonly Item[], pick: (item: Item) => number | null | undefined): number {
  return items.reduce((sum, item) => sum + (pick(item) ?? 0), 0);
}
