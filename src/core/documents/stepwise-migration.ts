/** Any JSON object. */
export type JsonObject = Readonly<Record<string, unknown>>;

/** One step: takes a record of version `from` to version `from` + 1. */
export interface Migration {
  readonly from: number;
  readonly migrate: (record: JsonObject) => JsonObject;
}

/**
 * Steps from the first version ever written to the current one. Throws when a step is missing, doubled or out of
 * order, because then an old record would be read as something that it is not.
 */
export function migrationsUpTo(currentVersion: number, steps: readonly Migration[]): readonly Migration[] {
  const wanted = Array.from({ length: currentVersion - 1 }, (_, index) => index + 1);
  const given = steps.map(({ from }) => from);
  if (given.join() !== wanted.join())
    throw new Error(
      `Migrations must start at versions ${wanted.join(', ') || '(none)'}, but start at ${given.join(', ')}.`,
    );
  return steps;
}

/** Takes a record through every step from its own version on. */
export function migrate(record: JsonObject, version: number, steps: readonly Migration[]): JsonObject {
  return steps
    .filter(({ from }) => from >= version)
    .reduce<JsonObject>((older, step) => ({ ...step.migrate(older), schemaVersion: step.from + 1 }), record);
}
