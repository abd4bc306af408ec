import type { PlanQuestion } from '../plan/safety-questions.ts';
import { isMeasuredExercise, type Plan, type PlannedExercise, type Stage } from '../plan/plan.ts';
import { THRESHOLD_NAMES, THRESHOLD_TABLE } from '../exercises/thresholds.ts';
import { thresholdsOf } from '../plan/planned-thresholds.ts';
import { daysAWeekWords, doseWords, PLANNED_EXERCISE_WORDS, tempoWords } from './dose-words.ts';
import { durationWords } from './measure-words.ts';
import { PAIN_OFFER_WORDS, painRulesWords } from './pain-words.ts';
import { progressRulesWords } from './progress-words.ts';
import { listWords, PLAN_QUESTION_WORDS } from './safety-words.ts';

/** What changed from one version of a plan to another, one sentence for each thing; empty when nothing did. */
export function planChanges(before: Plan, after: Plan): string[] {
  return [
    ...personChanges(before, after),
    ...safetyChanges(before, after),
    ...listChanges('Pain', painRulesWords(before.painRules), painRulesWords(after.painRules)),
    ...changed('Offered when pain passes the ceiling', offersOf(before), offersOf(after)),
    ...listChanges(
      'Progress',
      progressRulesWords(before.progressRules),
      progressRulesWords(after.progressRules),
    ),
    ...changed('Stage followed', nameOfStage(before), nameOfStage(after)),
    ...stageChanges(before.stages, after.stages),
  ];
}

function personChanges({ person: before }: Plan, { person: after }: Plan): string[] {
  const mass = (kilograms: number | null): string => (kilograms === null ? 'not given' : `${kilograms} kg`);
  return [
    ...changed('Label', before.label, after.label),
    ...changed('Treated side', before.treatedSide, after.treatedSide),
    ...changed('Stature', `${before.statureCm} cm`, `${after.statureCm} cm`),
    ...changed('Body mass', mass(before.bodyMassKg), mass(after.bodyMassKg)),
  ];
}

function safetyChanges(before: Plan, after: Plan): string[] {
  const answers = ({ screening }: Plan): string =>
    screening === null ? 'not asked' : questionsWords(screening.yes);
  const decided = ({ highEffort }: Plan): string =>
    highEffort === null ? 'not decided' : `${highEffort.decided} (${highEffort.reason})`;
  return [
    ...changed('Questions before the plan', answers(before), answers(after)),
    ...changed('Holds at high effort', decided(before), decided(after)),
  ];
}

function questionsWords(yes: readonly PlanQuestion[]): string {
  return yes.length === 0
    ? 'no to every question'
    : `yes to ${listWords(yes.map((question) => PLAN_QUESTION_WORDS[question].short))}`;
}

function offersOf({ painRules }: Plan): string {
  return painRules.offers.map((offer) => PAIN_OFFER_WORDS[offer].toLowerCase()).join(', ');
}

function nameOfStage({ stages, stageKey }: Plan): string {
  return stages.find(({ key }) => key === stageKey)?.name ?? stageKey;
}

function stageChanges(before: readonly Stage[], after: readonly Stage[]): string[] {
  const kept = after.flatMap((stage) => {
    const old = before.find(({ key }) => key === stage.key);
    return old ? [{ old, stage }] : [];
  });
  const order = (stages: readonly Stage[]): string =>
    stages
      .filter(({ key }) => kept.some(({ stage }) => stage.key === key))
      .map(({ key }) => key)
      .join();
  return [
    ...before
      .filter((old) => !kept.some((pair) => pair.old === old))
      .map(({ name }) => `Stage taken out: ${name}.`),
    ...after
      .filter((stage) => !kept.some((pair) => pair.stage === stage))
      .map(({ name }) => `Stage added: ${name}.`),
    ...(order(before) === order(after)
      ? []
      : [`Order of stages: ${after.map(({ name }) => name).join(', ')}.`]),
    ...kept.flatMap(({ old, stage }) => [
      ...changed('Stage', old.name, stage.name),
      ...exerciseListChanges(old, stage),
    ]),
  ];
}

function exerciseListChanges(before: Stage, after: Stage): string[] {
  const called = ({ exercise }: PlannedExercise): string =>
    `${after.name}, ${PLANNED_EXERCISE_WORDS[exercise].toLowerCase()}`;
  const kept = (exercise: PlannedExercise): PlannedExercise | undefined =>
    before.exercises.find(({ key }) => key === exercise.key);
  const isOrderKept =
    before.exercises
      .map(({ key }) => key)
      .filter((key) => after.exercises.some((other) => other.key === key))
      .join() ===
    after.exercises
      .filter((exercise) => kept(exercise))
      .map(({ key }) => key)
      .join();
  return [
    ...before.exercises
      .filter(({ key }) => !after.exercises.some((other) => other.key === key))
      .map((exercise) => `${called(exercise)}: taken out.`),
    ...(isOrderKept ? [] : [`${after.name}: exercises in another order.`]),
    ...after.exercises.flatMap((exercise) => {
      const old = kept(exercise);
      return old === undefined
        ? [`${called(exercise)}: added, ${doseWords(exercise.dose)}.`]
        : exerciseChanges(called(exercise), old, exercise);
    }),
  ];
}

function exerciseChanges(name: string, before: PlannedExercise, after: PlannedExercise): string[] {
  const rest = ({ dose }: PlannedExercise): string => `rest ${durationWords(dose.restSeconds)}`;
  const note = (exercise: PlannedExercise): string =>
    exercise.note === null ? 'no note' : `“${exercise.note}”`;
  return [
    ...changed(
      name,
      PLANNED_EXERCISE_WORDS[before.exercise].toLowerCase(),
      PLANNED_EXERCISE_WORDS[after.exercise].toLowerCase(),
    ),
    ...changed(name, variantOf(before), variantOf(after)),
    ...changed(name, doseWords(before.dose), doseWords(after.dose)),
    ...changed(name, tempoWords(before.dose) || 'held', tempoWords(after.dose) || 'held'),
    ...changed(name, rest(before), rest(after)),
    ...changed(name, daysAWeekWords(before.dose), daysAWeekWords(after.dose)),
    ...changed(name, note(before), note(after)),
    ...thresholdChanges(name, before, after),
    ...(sameEquipment(before, after) ? [] : [`${name}: other equipment.`]),
  ];
}

function variantOf(exercise: PlannedExercise): string {
  if (exercise.exercise !== 'band-curl') return '';
  return exercise.variant === 'turning' ? 'turning the palm up' : 'palm up throughout';
}

function thresholdChanges(name: string, before: PlannedExercise, after: PlannedExercise): string[] {
  if (!isMeasuredExercise(before) || !isMeasuredExercise(after)) return [];
  const [old, now] = [thresholdsOf(before), thresholdsOf(after)];
  const planned = (degrees: number | null): string =>
    degrees === null ? 'as usual in the set' : `${degrees} deg`;
  return [
    ...changed(
      `${name}, planned start`,
      planned(old.plannedStartFlexionDeg),
      planned(now.plannedStartFlexionDeg),
    ),
    ...changed(`${name}, planned top`, planned(old.plannedTopFlexionDeg), planned(now.plannedTopFlexionDeg)),
    ...THRESHOLD_NAMES.flatMap((threshold) => {
      const { meaning, unit } = THRESHOLD_TABLE[threshold];
      if (old[threshold] === now[threshold]) return [];
      return [`${name}: ${figure(old[threshold])} to ${figure(now[threshold])} ${unit}. ${meaning}`];
    }),
  ];
}

function figure(value: number): string {
  return String(Number(value.toFixed(3)));
}

function sameEquipment(before: PlannedExercise, after: PlannedExercise): boolean {
  const of = (exercise: PlannedExercise): string =>
    isMeasuredExercise(exercise) ? JSON.stringify(exercise.equipment) : '';
  return of(before) === of(after);
}

function listChanges(what: string, before: readonly string[], after: readonly string[]): string[] {
  return after
    .filter((sentence) => !before.includes(sentence))
    .map((sentence) => `${what}: ${sentence}`)
    .concat(
      before.length > after.length && after.every((sentence) => before.includes(sentence))
        ? before
            .filter((sentence) => !after.includes(sentence))
            .map((sentence) => `${what}, no longer: ${sentence}`)
        : [],
    );
}

function changed(what: string, before: string, after: string): string[] {
  return before === after ? [] : [`${what}: ${before} to ${after}.`];
}
