import { calculatedHardest } from './calculated-hardest.ts';
import { dayOf, instantSeconds } from './calendar.ts';
import type { Decision, Direction } from './decision.ts';
import { barCeiling, feltHardest, type BarCeiling, type FeltHardest } from './equipment-signs.ts';
import { mayHoldsStart, type HoldClearance } from './may-start.ts';
import { currentStage, type Plan, type Stage } from './plan.ts';
import { daysInOrder, firstVersionOfStage, followedVersion, inOrder } from './plan-versions.ts';
import type { TrainingDay } from './training-day.ts';
import { trendOf, type Trend } from './trend.ts';
import { weighDay, type WeighedDay } from './weigh-day.ts';
import { weekView, type Week } from './weeks.ts';

/** What is known beside the plan and its days. */
export interface PlanPast {
  /** All versions of the plan, this one or not; days are weighed by the version that they followed. */
  readonly versions?: readonly Plan[];
  readonly decisions?: readonly Decision[];
}

/** One thing that a proposal rests on, with its numbers; feedback/proposal-words.ts says it. */
export type Ground =
  | { readonly kind: 'red-flags'; readonly days: readonly WeighedDay[] }
  | { readonly kind: 'bad-days'; readonly days: readonly WeighedDay[]; readonly needed: number }
  | {
      readonly kind: 'days-off';
      readonly daysOff: number;
      readonly allowed: number;
      readonly since: TrainingDay | null;
    }
  | { readonly kind: 'good-days'; readonly days: readonly WeighedDay[]; readonly needed: number }
  | { readonly kind: 'no-days' }
  | { readonly kind: 'waits-for-morning'; readonly day: WeighedDay }
  | { readonly kind: 'does-not-count'; readonly day: WeighedDay }
  | { readonly kind: 'days-missed'; readonly week: Week }
  | { readonly kind: 'first-stage' }
  | { readonly kind: 'last-stage' }
  | { readonly kind: 'holds-wait'; readonly clearance: HoldClearance }
  | { readonly kind: 'bar-ceiling'; readonly ceiling: BarCeiling }
  | { readonly kind: 'felt-hardest'; readonly felt: FeltHardest }
  | { readonly kind: 'plateau'; readonly trends: readonly Trend[]; readonly weekCount: number };

/** Where the rules of a plan point, and everything that they rest on. */
export interface WeighedPlan {
  readonly direction: Direction;
  readonly toStage: Stage;
  readonly grounds: readonly Ground[];
  /** The days that were looked at: of this stage, since it began and since the last decision. */
  readonly days: readonly WeighedDay[];
}

/** So many weeks in a stage without any change that can be told from chance are named. Common practice, no source. */
const PLATEAU_WEEKS = 3;

/**
 * What the plan's own rules say of the days so far. What a therapist has decided on is not weighed again: counting starts
 * anew with each decision and each stage. Answers that are missing count for nothing.
 * @param moment - now, with offset
 */
export function weighPlan(
  plan: Plan,
  days: readonly TrainingDay[],
  moment: string,
  past: PlanPast = {},
): WeighedPlan {
  const versions = inOrder([...(past.versions ?? []).filter(({ version }) => version < plan.version), plan]);
  const since = lastDecision(past.decisions ?? []);
  const all = daysInOrder(days).filter(({ planId }) => planId === plan.id);
  const stage = currentStage(plan);
  const began = firstVersionOfStage(versions);
  const stageDays = all.filter(({ stageKey, planVersion }) => stageKey === stage.key && planVersion >= began);
  const undecided = (list: readonly TrainingDay[]): WeighedDay[] =>
    list
      .filter(({ startedAt }) => since === null || instantSeconds(startedAt) > instantSeconds(since))
      .map((day) => weighDay(followedVersion(versions, day) ?? plan, day, moment));
  const ofStage = undecided(stageDays);
  const context: Context = { plan, versions, stage, days: ofStage, stageDays, since, moment, all };
  const notes = [...equipmentNotes(context), ...holdNote(plan, stage)];
  const { direction, toStage, grounds } = directionOf(context, undecided(all));
  return { direction, toStage, grounds: [...grounds, ...notes], days: ofStage };
}

interface Context {
  readonly plan: Plan;
  readonly versions: readonly Plan[];
  readonly stage: Stage;
  /** Of this stage, since it began and since the last decision. */
  readonly days: readonly WeighedDay[];
  /** Of this stage, since it began; a decision to stay does not begin the trend anew. */
  readonly stageDays: readonly TrainingDay[];
  readonly since: string | null;
  readonly moment: string;
  readonly all: readonly TrainingDay[];
}

type Pointing = Pick<WeighedPlan, 'direction' | 'toStage' | 'grounds'>;

function directionOf(context: Context, undecided: readonly WeighedDay[]): Pointing {
  const { plan, stage, days } = context;
  const flagged = undecided.filter(({ redFlags }) => redFlags.length > 0);
  if (flagged.length > 0)
    return { direction: 'seek-care', toStage: stage, grounds: [{ kind: 'red-flags', days: flagged }] };
  const back = [...badDays(context), ...daysOff(context)];
  if (back.length > 0) return stepBack(context, back);
  const run = goodRun(days);
  const [waiting] = days.slice(-1).filter(isPending);
  const next = plan.stages[plan.stages.indexOf(stage) + 1];
  const needed = plan.progressRules.goodDaysToAdvance;
  const good: Ground = { kind: 'good-days', days: run, needed };
  if (run.length >= needed && waiting === undefined && next !== undefined)
    return { direction: 'advance', toStage: next, grounds: [good] };
  const stay: Ground[] = days.length === 0 ? [{ kind: 'no-days' }] : [good];
  if (waiting !== undefined) stay.push({ kind: 'waits-for-morning', day: waiting });
  const last = days.findLast((day) => !isPending(day));
  if (last && !last.isGood) stay.push({ kind: 'does-not-count', day: last });
  if (run.length >= needed && next === undefined) stay.push({ kind: 'last-stage' });
  return {
    direction: 'stay',
    toStage: stage,
    grounds: [...stay, ...missedNote(context), ...plateauNote(context)],
  };
}

function stepBack({ plan, stage }: Context, grounds: readonly Ground[]): Pointing {
  const before = plan.stages[plan.stages.indexOf(stage) - 1];
  return before === undefined
    ? { direction: 'stay', toStage: stage, grounds: [...grounds, { kind: 'first-stage' }] }
    : { direction: 'step-back', toStage: before, grounds };
}

/** Days in a row above the ceiling, the last ones first; a day on which that is not known neither counts nor ends the row. */
function badDays({ plan, days }: Context): Ground[] {
  const row: WeighedDay[] = [];
  for (const day of days.toReversed()) {
    if (day.isBad) row.unshift(day);
    else if (day.sessionPain === 'within' && day.morningPain === 'within') break;
  }
  const needed = plan.progressRules.badDaysToStepBack;
  return row.length >= needed ? [{ kind: 'bad-days', days: row, needed }] : [];
}

/** Days without training since the last one of this stage, or since the stage or the last decision began. */
function daysOff({ plan, days, since, moment, versions }: Context): Ground[] {
  const lastDone = days.findLast(({ day }) => isBegun(day))?.day ?? null;
  const stageBegan = versions.find(({ version }) => version >= firstVersionOfStage(versions))?.writtenAt;
  const begins = [lastDone?.startedAt, since, stageBegan].flatMap((begin) => (begin ? [dayOf(begin)] : []));
  const daysWithout = dayOf(moment) - Math.max(...begins);
  const allowed = plan.progressRules.daysOffBeforeStepBack;
  return daysWithout >= allowed ? [{ kind: 'days-off', daysOff: daysWithout, allowed, since: lastDone }] : [];
}

/** Good days in a row up to the last one whose next morning has come; a long pause ends the row. */
function goodRun(days: readonly WeighedDay[]): WeighedDay[] {
  const row: WeighedDay[] = [];
  for (const weighed of days
    .filter((day, index) => index < days.length - 1 || !isPending(day))
    .toReversed()) {
    const [next] = row;
    const pause = next ? dayOf(next.day.startedAt) - dayOf(weighed.day.startedAt) : 0;
    if (!weighed.isGood || pause >= weighed.plan.progressRules.daysOffBeforeStepBack) break;
    row.unshift(weighed);
  }
  return row;
}

/** Today's day, whose answer to the training is still to come. */
function isPending({ shortfalls, isBad }: WeighedDay): boolean {
  return shortfalls.includes('morning-ahead') && !isBad;
}

function isBegun({ exercises }: TrainingDay): boolean {
  return exercises.some(({ sets }) => sets.length > 0);
}

function missedNote({ versions, all, moment }: Context): Ground[] {
  const week = weekView(versions, all, moment).findLast(({ missedDays }) => missedDays !== null);
  return week?.missedDays ? [{ kind: 'days-missed', week }] : [];
}

function plateauNote({ stageDays }: Context): Ground[] {
  const told = trendOf(stageDays).filter(
    ({ verdict, limit, first }) =>
      verdict !== 'limit-unknown' && !(limit?.from === 'pain-scale' && first === 0),
  );
  const weekCount = Math.max(0, ...told.map(({ weeks }) => weeks.length));
  const isPlateau = told.length > 0 && told.every(({ verdict }) => verdict === 'no-change');
  return isPlateau && weekCount >= PLATEAU_WEEKS ? [{ kind: 'plateau', trends: told, weekCount }] : [];
}

function equipmentNotes({ plan, days, stage }: Context): Ground[] {
  const calculated = calculatedHardest(plan);
  const ceiling = barCeiling(days);
  const felt = stage.exercises.flatMap(({ key }) => feltHardest(days, key, calculated[key] ?? null) ?? []);
  return [
    ...(ceiling === null ? [] : [{ kind: 'bar-ceiling' as const, ceiling }]),
    ...felt.map((each) => ({ kind: 'felt-hardest' as const, felt: each })),
  ];
}

function holdNote(plan: Plan, stage: Stage): Ground[] {
  const clearance = mayHoldsStart(plan);
  const hasHold = stage.exercises.some(({ dose }) => dose.kind === 'hold');
  return hasHold && !clearance.mayStart ? [{ kind: 'holds-wait', clearance }] : [];
}

function lastDecision(decisions: readonly Decision[]): string | null {
  const [last] = [...decisions].sort((a, b) => instantSeconds(b.decidedAt) - instantSeconds(a.decidedAt));
  return last?.decidedAt ?? null;
}
