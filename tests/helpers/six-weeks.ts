import { propose } from '../../src/core/feedback/propose.ts';
import { dateOf, dayOf, instantSeconds } from '../../src/core/plan/calendar.ts';
import { decide, type DecisionMade } from '../../src/core/plan/decide.ts';
import type { Decision, Proposal } from '../../src/core/plan/decision.ts';
import type { Band } from '../../src/core/loads/equipment.ts';
import type { Plan, Stage } from '../../src/core/plan/plan.ts';
import type { MeasuredDone, TrainingDay } from '../../src/core/plan/training-day.ts';
import { dayOn, inventedPlan, nextVersion, type DayAnswers } from './plan-days.ts';

/*
 * Six weeks of an invented person with an invented therapist: a scenario of our own, written to show every kind of
 * proposal. Nobody trained so, and no figure in it is a finding.
 */

const FIRST_DAY = '2026-03-01T12:00:00+01:00';
const LAST_DAY = '2026-04-12T12:00:00+01:00';

/** The invented therapist's rules: sooner on than the plan that stands ready, so that six weeks show something. */
const RULES = {
  goodDaysToAdvance: 3,
  doseShareToCount: 0.8,
  shoulderDominantShareAllowed: 0.2,
  badDaysToStepBack: 2,
  daysOffBeforeStepBack: 10,
};

/** Training days by date, as they were done and answered. */
const TRAINED: Readonly<Record<string, DayAnswers>> = {
  '03-02': { done: 0.6 },
  '03-04': { handRose: 0.15 },
  '03-06': {},
  '03-09': { painAfter: 1 },
  '03-11': { shoulderDominant: 3, measured: figures(2.8, 73, 0.24) },
  '03-13': { morning: 4, measured: figures(2.9, 76, 0.17) },
  '03-16': {
    done: 0.6,
    painAfter: 4,
    painAtEnd: 3,
    endedBecause: 'pain',
    measured: figures(2.7, 74, 0.18),
  },
  '03-18': { measured: figures(2.9, 75, 0.16) },
  '03-20': { morning: null, measured: figures(3, 77, 0.15) },
  // From 23 to 29 March nobody trained.
  '03-30': { measured: figures(2.8, 74, 0.17) },
  '04-01': { safetyYes: ['pop', 'bruising'] },
  '04-03': { measured: figures(3, 76, 0.16) },
  '04-06': { measured: figures(3.1, 77, 0.15) },
  '04-08': { measured: figures(3, 78, 0.16) },
  '04-10': { hardest: 'straight', measured: figures(2.9, 104, null) },
};

type Deciding = Pick<DecisionMade, 'direction' | 'reason'> & { readonly change?: (plan: Plan) => Stage[] };

/** What the invented therapist decided, by date, at three in the afternoon. */
const DECIDED: Readonly<Record<string, Deciding>> = {
  '03-10': { direction: 'advance', reason: 'Three good days, arm calm.' },
  '03-17': {
    direction: 'stay',
    reason: 'The grip was too narrow. Two sets for now instead of the stage before.',
    change: (plan) => withSets(plan, 'body-curl', 2),
  },
  '03-30': { direction: 'stay', reason: 'Was away; the arm did not hurt. Go on as before.' },
  '04-02': {
    direction: 'stay',
    reason: 'Seen by a doctor the same day: the bruise came from a knock. The doctor lets training go on.',
  },
  '04-09': {
    direction: 'advance',
    reason: 'Three good days after the knock.',
    change: (plan) => withBand(plan, 'band-curl-supinated'),
  },
};

/** The invented band: measured with a luggage scale that nobody has read. */
const BAND: Band = {
  kind: 'band',
  restLengthM: 1,
  readings: [
    { lengthM: 1.3, forceN: 14 },
    { lengthM: 1.6, forceN: 24 },
    { lengthM: 2, forceN: 34 },
  ],
  anchorM: { forward: 0.2, outward: -0.4, up: -1 },
  leavesHand: 'thumb-side',
  fromForearmAxisM: 0.04,
};

/** One day of the scenario. */
export interface ScenarioDay {
  /** Noon of it. */
  readonly moment: string;
  /** The plan in the morning, before anything was decided. */
  readonly plan: Plan;
  /** What is proposed in the morning, once the question of the morning is answered or left. */
  readonly proposal: Proposal;
  readonly decision: Decision | null;
  /** The version that followed from the decision; null where nothing changed. */
  readonly newPlan: Plan | null;
  /** The training of the evening; null without one. */
  readonly trained: TrainingDay | null;
  /** The version that the training followed. */
  readonly followed: Plan;
}

/** The whole scenario. */
export interface Scenario {
  /** Version 1: the questions are answered, and the therapist has not decided about the yes yet. */
  readonly firstPlan: Plan;
  /** Version 2: holds are allowed. */
  readonly secondPlan: Plan;
  readonly days: readonly ScenarioDay[];
  readonly versions: readonly Plan[];
  readonly trained: readonly TrainingDay[];
  readonly decisions: readonly Decision[];
  readonly end: string;
}

/** Lives through the six weeks, day by day, with nothing known beforehand. */
export function sixWeeks(): Scenario {
  const start = inventedPlan();
  const firstPlan: Plan = {
    ...start,
    progressRules: RULES,
    screening: { answeredAt: start.writtenAt, yes: ['blood-pressure'] },
  };
  const decidedAt = '2026-03-01T11:30:00+01:00';
  const secondPlan = nextVersion(
    firstPlan,
    { highEffort: { decided: 'allowed', decidedAt, reason: 'Treated since, normal at rest.' } },
    decidedAt,
    'Holds allowed after asking about the blood pressure.',
  );
  const versions = [firstPlan, secondPlan];
  const trained: TrainingDay[] = [];
  const decisions: Decision[] = [];
  const days: ScenarioDay[] = [];
  for (let day = dayOf(FIRST_DAY); day <= dayOf(LAST_DAY); day++) {
    const date = dateText(day);
    const at = (time: string): string => `2026-${date}T${time}:00+01:00`;
    const plan = versions.at(-1) ?? firstPlan;
    const proposal = propose(plan, knownAt(trained, at('12:00')), at('12:00'), { versions, decisions });
    const decided = decideOn(date, plan, proposal, at('15:00'));
    if (decided !== null) decisions.push(decided.decision);
    const newPlan = decided === null || decided.plan === plan ? null : decided.plan;
    if (newPlan !== null) versions.push(newPlan);
    const followed = newPlan ?? plan;
    const answers = TRAINED[date];
    const done = answers === undefined ? null : dayOn(followed, date, answers);
    if (done !== null) trained.push(done);
    days.push({
      moment: at('12:00'),
      plan,
      proposal,
      decision: decided?.decision ?? null,
      newPlan,
      trained: done,
      followed,
    });
  }
  return { firstPlan, secondPlan, days, versions, trained, decisions, end: LAST_DAY };
}

function decideOn(
  date: string,
  plan: Plan,
  proposal: Proposal,
  moment: string,
): { readonly decision: Decision; readonly plan: Plan } | null {
  const deciding = DECIDED[date];
  if (deciding === undefined) return null;
  const { direction, reason, change } = deciding;
  const made = { id: `22222222-2222-4222-8222-00002026${date.replace('-', '')}`, direction, reason, moment };
  const result = decide(plan, proposal, { ...made, ...(change ? { change: { stages: change(plan) } } : {}) });
  if (!result.ok) throw new Error(`The scenario decides what cannot be: ${result.problem.kind}.`);
  return result.decided;
}

/** The days as they were known at a moment: an answer that was given later is not in them. */
function knownAt(days: readonly TrainingDay[], moment: string): TrainingDay[] {
  return days.map((day) =>
    day.nextMorning && instantSeconds(day.nextMorning.answeredAt) > instantSeconds(moment)
      ? { ...day, nextMorning: null }
      : day,
  );
}

function dateText(day: number): string {
  const { month, day: ofMonth } = dateOf(day);
  const two = (value: number): string => String(value).padStart(2, '0');
  return `${two(month)}-${two(ofMonth)}`;
}

function figures(
  loweringSeconds: number,
  rangeDeg: number,
  shoulderShare: number | null,
): Partial<MeasuredDone> {
  return { loweringSeconds, rangeDeg, shoulderShare };
}

function withSets(plan: Plan, exerciseKey: string, sets: number): Stage[] {
  return plan.stages.map((stage) => ({
    ...stage,
    exercises: stage.exercises.map((each) =>
      each.key === exerciseKey ? { ...each, dose: { ...each.dose, sets } } : each,
    ),
  }));
}

function withBand(plan: Plan, exerciseKey: string): Stage[] {
  return plan.stages.map((stage) => ({
    ...stage,
    exercises: stage.exercises.map((each) =>
      each.key === exerciseKey && each.exercise === 'band-curl' ? { ...each, equipment: BAND } : each,
    ),
  }));
}
