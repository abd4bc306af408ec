import { askedAgainstDone } from './asked-done.ts';
import { dayOf } from './calendar.ts';
import { nextMorningPain, sessionPain, type PainVerdict } from './pain.ts';
import type { Plan } from './plan.ts';
import type { SessionQuestion } from './safety-questions.ts';
import type { TrainingDay } from './training-day.ts';

/** Why a training day does not count towards going on. */
export type Shortfall =
  | 'not-ended'
  | 'dose'
  | 'dose-unknown'
  | 'session-pain'
  | 'session-pain-missing'
  | 'morning-pain'
  | 'morning-missing'
  | 'morning-ahead'
  | 'shoulder'
  | 'shoulder-unknown';

/** A training day by the rules of its plan. */
export interface WeighedDay {
  readonly day: TrainingDay;
  /** The version that it followed and is weighed by. */
  readonly plan: Plan;
  /** Answered with yes before the session: no session, care now. */
  readonly redFlags: readonly SessionQuestion[];
  /** Part of the asked dose, 0 to 1, or null when it is not known. */
  readonly doseShare: number | null;
  readonly sessionPain: PainVerdict;
  readonly morningPain: PainVerdict;
  /** Of the body-moving curls that could be judged; null without any such exercise or any judged repetition. */
  readonly shoulderDominantShare: number | null;
  /** Everything that keeps the day from counting; a day without any is a good day. */
  readonly shortfalls: readonly Shortfall[];
  /** Pain above the ceiling, in the session or the next morning. */
  readonly isBad: boolean;
  readonly isGood: boolean;
}

/**
 * Weighs one training day by the version of the plan that it followed. What was not answered or not measured never counts
 * in favour, and never counts as pain.
 * @param moment - now; before the next morning its question cannot be missing yet
 */
export function weighDay(plan: Plan, day: TrainingDay, moment: string): WeighedDay {
  const doseShare = askedAgainstDone(plan, day).share;
  const inSession = sessionPain(plan, day);
  const nextMorning = nextMorningPain(plan, day);
  const shoulder = shoulderOf(plan, day);
  const { doseShareToCount, shoulderDominantShareAllowed } = plan.progressRules;
  const shortfalls: Shortfall[] = [];
  if (day.endedAt === null || day.endedBecause === 'broken-off') shortfalls.push('not-ended');
  if (doseShare === null) shortfalls.push('dose-unknown');
  else if (doseShare < doseShareToCount) shortfalls.push('dose');
  if (inSession === 'above') shortfalls.push('session-pain');
  if (inSession === 'not-answered') shortfalls.push('session-pain-missing');
  if (nextMorning === 'above') shortfalls.push('morning-pain');
  if (nextMorning === 'not-answered')
    shortfalls.push(dayOf(moment) > dayOf(day.startedAt) ? 'morning-missing' : 'morning-ahead');
  if (shoulder.asked && shoulder.share === null) shortfalls.push('shoulder-unknown');
  if (shoulder.share !== null && shoulder.share > shoulderDominantShareAllowed) shortfalls.push('shoulder');
  return {
    day,
    plan,
    redFlags: day.safetyYes,
    doseShare,
    sessionPain: inSession,
    morningPain: nextMorning,
    shoulderDominantShare: shoulder.share,
    shortfalls,
    isBad: inSession === 'above' || nextMorning === 'above',
    isGood: shortfalls.length === 0 && day.safetyYes.length === 0,
  };
}

/** Body-moving curls of a day: whether any was asked, and the share of judged repetitions that the shoulder led. */
function shoulderOf(
  plan: Plan,
  day: TrainingDay,
): { readonly asked: boolean; readonly share: number | null } {
  const stage = plan.stages.find(({ key }) => key === day.stageKey);
  const curls = day.exercises.filter(({ exercise }) => exercise === 'body-curl').flatMap(({ sets }) => sets);
  const count = (pick: 'shoulderDominant' | 'judgedRepetitions'): number =>
    curls.reduce((total, { measured }) => total + (measured?.[pick] ?? 0), 0);
  const judged = count('judgedRepetitions');
  return {
    asked: stage?.exercises.some(({ exercise }) => exercise === 'body-curl') ?? false,
    share: judged === 0 ? null : count('shoulderDominant') / judged,
  };
}
