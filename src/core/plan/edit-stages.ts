import { DEFAULT_FIGURES, holdDose, repetitionDose } from './default-figures.ts';
import type { PlannedExercise, PlannedExerciseName, Stage } from './plan.ts';

/* Changes to the stages of a plan while it is written. Every one gives new stages and leaves the given ones as they are. */

/** Stages and exercises at most, as the schema has it. */
export const MOST_STAGES = 12;
export const MOST_EXERCISES = 8;

/** A stage more at the end, with a hold in it; nothing new where there are as many as can be. */
export function withNewStage(stages: readonly Stage[], name: string): Stage[] {
  if (stages.length >= MOST_STAGES) return [...stages];
  const key = freeKey(
    'stage',
    stages.map((stage) => stage.key),
  );
  return [...stages, { key, name, exercises: [newExercise('hold', freeKey('hold', exerciseKeys(stages)))] }];
}

/** The same stages with one of them changed. */
export function withStage(stages: readonly Stage[], key: string, change: (stage: Stage) => Stage): Stage[] {
  return stages.map((stage) => (stage.key === key ? change(stage) : stage));
}

/** Without a stage; the last one stays. */
export function withoutStage(stages: readonly Stage[], key: string): Stage[] {
  return stages.length === 1 ? [...stages] : stages.filter((stage) => stage.key !== key);
}

/** With an exercise more at the end of a stage, at the dose that stands ready for it. */
export function withNewExercise(
  stages: readonly Stage[],
  stageKey: string,
  name: PlannedExerciseName,
): Stage[] {
  const exercise = newExercise(name, freeKey(name, exerciseKeys(stages)));
  return withStage(stages, stageKey, (stage) =>
    stage.exercises.length >= MOST_EXERCISES
      ? stage
      : { ...stage, exercises: [...stage.exercises, exercise] },
  );
}

/** With an exercise in place of the one of the same key. */
export function withExercise(stages: readonly Stage[], exercise: PlannedExercise): Stage[] {
  return stages.map((stage) => ({
    ...stage,
    exercises: stage.exercises.map((old) => (old.key === exercise.key ? exercise : old)),
  }));
}

/** Without an exercise; the last one of a stage stays. */
export function withoutExercise(stages: readonly Stage[], key: string): Stage[] {
  return stages.map((stage) =>
    stage.exercises.length === 1
      ? stage
      : { ...stage, exercises: stage.exercises.filter((exercise) => exercise.key !== key) },
  );
}

/** With the item of a key moved by so many places, as far as there are places. */
export function moved<Item extends { readonly key: string }>(
  items: readonly Item[],
  key: string,
  by: number,
): Item[] {
  const from = items.findIndex((item) => item.key === key);
  const item = items[from];
  if (item === undefined) return [...items];
  const others = items.filter((other) => other !== item);
  const to = Math.min(Math.max(from + by, 0), others.length);
  return [...others.slice(0, to), item, ...others.slice(to)];
}

/** An exercise with the dose that stands ready for it, and nothing changed yet. */
export function newExercise(exercise: PlannedExerciseName, key: string): PlannedExercise {
  const basics = { key, note: null };
  const measured = { ...basics, thresholds: {}, equipment: null };
  switch (exercise) {
    case 'hold':
      return { ...measured, exercise, dose: holdDose(DEFAULT_FIGURES.hold) };
    case 'body-curl':
      return { ...measured, exercise, range: null, dose: repetitionDose(DEFAULT_FIGURES.bodyCurl) };
    case 'band-curl': {
      const dose = repetitionDose(DEFAULT_FIGURES.bandCurl);
      return { ...measured, exercise, range: null, variant: 'supinated', dose };
    }
    case 'free-curl':
      return { ...measured, exercise, range: null, dose: repetitionDose(DEFAULT_FIGURES.freeCurl) };
    case 'row':
      return { ...basics, exercise, dose: repetitionDose(DEFAULT_FIGURES.row) };
    case 'chin-up':
      return { ...basics, exercise, dose: repetitionDose(DEFAULT_FIGURES.chinUp) };
    case 'pulling':
      return { ...basics, exercise, dose: repetitionDose(DEFAULT_FIGURES.pulling) };
  }
}

function exerciseKeys(stages: readonly Stage[]): string[] {
  return stages.flatMap(({ exercises }) => exercises.map(({ key }) => key));
}

/** A key that is not taken: the stem, or the stem with the first free number. */
function freeKey(stem: string, taken: readonly string[]): string {
  if (!taken.includes(stem)) return stem;
  let number = 2;
  while (taken.includes(`${stem}-${number}`)) number += 1;
  return `${stem}-${number}`;
}
