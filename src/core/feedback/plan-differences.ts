import { THRESHOLD_NAMES, THRESHOLD_TABLE } from '../exercises/thresholds.ts';
import { isMeasuredExercise, type Plan, type PlannedExercise, type Stage } from '../plan/plan.ts';
import { thresholdsOf } from '../plan/planned-thresholds.ts';
import type { ProgressRules } from '../plan/progress-rules.ts';
import { isSameValue } from '../plan/same-value.ts';
import { daysAWeekWords, doseWords, PLANNED_EXERCISE_WORDS, tempoWords } from './dose-words.ts';
import { shortKey } from './key-words.ts';
import { PAIN_OFFER_WORDS } from './pain-words.ts';
import { PLAN_QUESTION_WORDS } from './safety-words.ts';
import { thresholdTitle } from './threshold-words.ts';

const PAIN_RULE_WORDS = {
  riseAllowed: 'Rise of pain allowed in a session',
  mostAllowed: 'Most pain allowed at all',
  nextMorningRiseAllowed: 'Rise of pain allowed next morning',
} as const;

/** The rules of progress by short names. */
export const PROGRESS_RULE_WORDS: Readonly<Record<keyof ProgressRules, string>> = {
  goodDaysToAdvance: 'Good days before going on is proposed',
  doseShareToCount: 'Share of the dose that makes a day',
  shoulderDominantShareAllowed: 'Shoulder-dominant repetitions allowed',
  badDaysToStepBack: 'Bad days before stepping back is proposed',
  daysOffBeforeStepBack: 'Days off before stepping back is proposed',
};

/** What one version of a plan has otherwise than another, a short sentence for each; empty when nothing differs. */
export function planDifferences(before: Plan, after: Plan): string[] {
  return [
    ...personDifferences(before.person, after.person),
    ...screeningDifferences(before, after),
    ...stageDifferences(before, after),
    ...ruleDifferences(before, after),
    ...change('Key for what is sent to the therapist', keyWords(before), keyWords(after)),
  ];
}

function keyWords({ therapistKey }: Plan): string {
  return therapistKey === null ? 'none' : shortKey(therapistKey);
}

/** "Name: one → other", or nothing where they are the same. */
function change(name: string, one: string, other: string): string[] {
  return one === other ? [] : [`${name}: ${one} → ${other}.`];
}

function personDifferences(before: Plan['person'], after: Plan['person']): string[] {
  const mass = ({ bodyMassKg }: Plan['person']): string =>
    bodyMassKg === null ? 'not given' : `${bodyMassKg} kg`;
  return [
    ...change('Label', before.label, after.label),
    ...change('Treated arm', before.treatedSide, after.treatedSide),
    ...change('Height', `${before.statureCm} cm`, `${after.statureCm} cm`),
    ...change('Body mass', mass(before), mass(after)),
  ];
}

function screeningDifferences(before: Plan, after: Plan): string[] {
  const answers = ({ screening }: Plan): string => {
    if (screening === null) return 'not asked';
    if (screening.yes.length === 0) return 'no to all';
    return `yes to ${screening.yes.map((question) => PLAN_QUESTION_WORDS[question].short).join(', ')}`;
  };
  const isAskedAgain =
    before.screening?.answeredAt !== after.screening?.answeredAt && answers(before) === answers(after);
  const decision = ({ highEffort }: Plan): string =>
    highEffort === null ? 'not decided' : `${highEffort.decided}, ${highEffort.reason.replace(/\.$/, '')}`;
  return [
    ...change('Questions before the plan', answers(before), answers(after)),
    ...(isAskedAgain ? ['Questions before the plan asked again, with the same answers.'] : []),
    ...change('Holds at high effort', decision(before), decision(after)),
  ];
}

function ruleDifferences(before: Plan, after: Plan): string[] {
  const pain = (name: keyof typeof PAIN_RULE_WORDS): string[] =>
    change(
      PAIN_RULE_WORDS[name],
      String(before.painRules[name] ?? 'no limit'),
      String(after.painRules[name] ?? 'no limit'),
    );
  const offers = ({ painRules }: Plan): string =>
    painRules.offers.map((offer) => PAIN_OFFER_WORDS[offer].toLowerCase()).join(', ');
  const progress = (name: keyof typeof PROGRESS_RULE_WORDS): string[] => {
    const words = (value: number): string =>
      name === 'doseShareToCount' || name === 'shoulderDominantShareAllowed'
        ? `${Math.round(value * 100)} %`
        : `${value}`;
    return change(
      PROGRESS_RULE_WORDS[name],
      words(before.progressRules[name]),
      words(after.progressRules[name]),
    );
  };
  return [
    ...pain('riseAllowed'),
    ...pain('mostAllowed'),
    ...pain('nextMorningRiseAllowed'),
    ...change('Offered above the ceiling', offers(before), offers(after)),
    ...progress('goodDaysToAdvance'),
    ...progress('doseShareToCount'),
    ...progress('shoulderDominantShareAllowed'),
    ...progress('badDaysToStepBack'),
    ...progress('daysOffBeforeStepBack'),
  ];
}

function stageDifferences(before: Plan, after: Plan): string[] {
  const followed = ({ stages, stageKey }: Plan): string =>
    stages.find(({ key }) => key === stageKey)?.name ?? stageKey;
  const known = (list: readonly Stage[], stage: Stage): Stage | undefined =>
    list.find(({ key }) => key === stage.key);
  const order = (list: readonly Stage[], other: readonly Stage[]): string =>
    list.flatMap((stage) => (known(other, stage) ? [stage.key] : [])).join();
  const isMoved = order(before.stages, after.stages) !== order(after.stages, before.stages);
  return [
    ...(before.stageKey === after.stageKey
      ? []
      : change('Stage followed', followed(before), followed(after))),
    ...before.stages.flatMap((stage) =>
      known(after.stages, stage) ? [] : [`Stage taken out: ${stage.name}.`],
    ),
    ...after.stages.flatMap((stage) => {
      const old = known(before.stages, stage);
      return old ? withinStage(old, stage) : [`Stage added: ${stage.name}.`];
    }),
    ...(isMoved ? [`Order of the stages: ${after.stages.map(({ name }) => name).join(', ')}.`] : []),
  ];
}

function withinStage(before: Stage, after: Stage): string[] {
  const known = (list: readonly PlannedExercise[], { key }: PlannedExercise): PlannedExercise | undefined =>
    list.find((exercise) => exercise.key === key);
  const named = (exercise: PlannedExercise): string => PLANNED_EXERCISE_WORDS[exercise.exercise];
  const order = (list: readonly PlannedExercise[], other: readonly PlannedExercise[]): string =>
    list.flatMap((exercise) => (known(other, exercise) ? [exercise.key] : [])).join();
  const isMoved = order(before.exercises, after.exercises) !== order(after.exercises, before.exercises);
  return [
    ...change('Name of a stage', before.name, after.name),
    ...before.exercises.flatMap((exercise) =>
      known(after.exercises, exercise) ? [] : [`${after.name}: ${named(exercise)} taken out.`],
    ),
    ...after.exercises.flatMap((exercise) => {
      const old = known(before.exercises, exercise);
      if (old === undefined) return [`${after.name}: ${named(exercise)} added.`];
      return withinExercise(old, exercise).map(
        (sentence) => `${after.name}, ${named(exercise)}: ${sentence}`,
      );
    }),
    ...(isMoved ? [`${after.name}: order of the exercises ${after.exercises.map(named).join(', ')}.`] : []),
  ];
}

function withinExercise(before: PlannedExercise, after: PlannedExercise): string[] {
  const rest = ({ dose }: PlannedExercise): string => `${dose.restSeconds} s`;
  return [
    ...change('dose', doseWords(before.dose), doseWords(after.dose)),
    ...change('times', tempoWords(before.dose), tempoWords(after.dose)),
    ...change('rest', rest(before), rest(after)),
    ...change('how often', daysAWeekWords(before.dose), daysAWeekWords(after.dose)),
    ...(isMeasuredExercise(before) && isMeasuredExercise(after) ? withinMeasured(before, after) : []),
    ...(before.note === after.note ? [] : ['note changed.']),
  ];
}

type Measured = Parameters<typeof thresholdsOf>[0];

function withinMeasured(before: Measured, after: Measured): string[] {
  const [old, now] = [thresholdsOf(before), thresholdsOf(after)];
  const range = (exercise: Measured): string => {
    if (exercise.exercise === 'hold' || exercise.range === null) return 'the usual ends';
    return `${exercise.range.startFlexionDeg} to ${exercise.range.topFlexionDeg} deg`;
  };
  const forearm = (exercise: Measured): string =>
    exercise.exercise === 'band-curl' && exercise.variant === 'turning' ? 'turning' : 'palm up';
  return [
    ...THRESHOLD_NAMES.flatMap((name) => {
      // What follows from the dose is said with the dose.
      if (before.thresholds[name] === after.thresholds[name]) return [];
      const { unit } = THRESHOLD_TABLE[name];
      return change(thresholdTitle(name).toLowerCase(), `${old[name]} ${unit}`, `${now[name]} ${unit}`);
    }),
    ...change('range', range(before), range(after)),
    ...change('forearm', forearm(before), forearm(after)),
    ...(isSameValue(before.equipment, after.equipment) ? [] : ['equipment changed.']),
  ];
}
