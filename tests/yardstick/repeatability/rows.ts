import { yardstickCases } from '../../../demo-clips/generator/yardstick/cases.ts';
import { quantile } from '../../../src/core/math/statistics.ts';
import { seededRandom } from '../../helpers/seeded-random.ts';
import { movementOf, type Movement } from '../validation/case-settings.ts';
import type { Condition } from './conditions.ts';
import type { Figure, KeptValues, SetValues } from './kept-values.ts';
import type { QuantityKey } from './quantities.ts';
import { reliability, type Reliability } from './reliability.ts';

/** How repeatable a figure is, with the 95 % interval that its movements give the standard error. */
export interface Repeatable extends Reliability {
  readonly semInterval: readonly [number, number];
}

/** One quantity of one movement under one condition. */
export interface Row {
  readonly movement: Movement;
  readonly quantity: QuantityKey;
  readonly condition: Condition;
  /** Measurements that were tried, and of them those that gave a figure. */
  readonly tried: number;
  readonly measured: number;
  /** Of the figure of a whole set: the mean over its repetitions. */
  readonly ofSet: Repeatable | null;
  /** Of the figure of one repetition; null for holds. */
  readonly ofRepetition: Repeatable | null;
}

/** What is compared in each movement. */
export const COMPARED: readonly (readonly [Movement, readonly QuantityKey[]])[] = [
  ['hold', ['holdElbowDeg']],
  ['standing', ['rangeDeg', 'loweringSeconds']],
  ['body-curl', ['rangeDeg', 'loweringSeconds', 'shoulderShare', 'torsoTravelCm']],
];

/** Every row that the kept figures give, in the order of COMPARED and of the conditions asked for. */
export function repeatabilityRows(kept: KeptValues, conditions: readonly Condition[]): Row[] {
  const cases = new Map(yardstickCases(kept.set).map((one) => [one.id, one]));
  const targetsOf = (movement: Movement, condition: Condition) =>
    kept.targets.filter((target) => {
      const own = cases.get(target.id);
      if (own === undefined) throw new Error(`repeatabilityRows: there is no case ${target.id} any more.`);
      return target.condition === condition && movementOf(own) === movement;
    });
  return COMPARED.flatMap(([movement, quantities]) =>
    quantities.flatMap((quantity) =>
      conditions.map((condition) => rowOf(movement, quantity, condition, targetsOf(movement, condition))),
    ),
  );
}

function rowOf(
  movement: Movement,
  quantity: QuantityKey,
  condition: Condition,
  targets: readonly { readonly repeats: readonly SetValues[] }[],
): Row {
  const sets = targets.map(({ repeats }) => repeats.map((values) => ofSet(values, quantity)));
  const repetitions = targets.flatMap(({ repeats }) => repetitionByRepetition(repeats, quantity));
  const tried = sets.flat();
  return {
    movement,
    quantity,
    condition,
    tried: tried.length,
    measured: tried.filter((figure) => figure !== null).length,
    ofSet: repeatable(sets),
    ofRepetition: quantity === 'holdElbowDeg' ? null : repeatable(repetitions),
  };
}

function ofSet(values: SetValues, quantity: QuantityKey): Figure {
  if (quantity === 'holdElbowDeg') return values.hold;
  const figures = values.repetitions[quantity].flatMap((figure) => figure ?? []);
  if (figures.length === 0) return null;
  const mean = (of: 'value' | 'truth'): number =>
    figures.reduce((sum, figure) => sum + figure[of], 0) / figures.length;
  return { value: mean('value'), truth: mean('truth') };
}

/** For each repetition of a movement its figures over the repeats. */
function repetitionByRepetition(repeats: readonly SetValues[], quantity: QuantityKey): Figure[][] {
  if (quantity === 'holdElbowDeg') return [];
  const most = Math.max(0, ...repeats.map(({ repetitions }) => repetitions[quantity].length));
  return Array.from({ length: most }, (_, i) =>
    repeats.map(({ repetitions }) => repetitions[quantity][i] ?? null),
  );
}

/**
 * What truly differs between the repeats of a target (another body travels further) is no error: every figure is told
 * about the mean truth of its target.
 */
function aboutOneTruth(figures: readonly Figure[]): number[] {
  const measured = figures.flatMap((figure) => figure ?? []);
  const meanTruth = measured.reduce((sum, { truth }) => sum + truth, 0) / measured.length;
  return measured.map(({ value, truth }) => value - truth + meanTruth);
}

const DRAWS = 1000;

function repeatable(targets: readonly (readonly Figure[])[]): Repeatable | null {
  const values = targets.map(aboutOneTruth).filter((repeats) => repeats.length > 1);
  const of = reliability(values);
  if (of === null) return null;
  const parts = values.map(withinOf);
  const random = seededRandom(40_961);
  const sems = Array.from({ length: DRAWS }, () => {
    const drawn = parts.flatMap(() => parts[Math.floor(random() * parts.length)] ?? []);
    const sum = (which: 'squares' | 'freedom'): number => drawn.reduce((all, part) => all + part[which], 0);
    return Math.sqrt(sum('squares') / sum('freedom'));
  });
  return { ...of, semInterval: [quantile(sems, 0.025) ?? NaN, quantile(sems, 0.975) ?? NaN] };
}

/** What a target adds to the mean square within targets. */
function withinOf(repeats: readonly number[]): { readonly squares: number; readonly freedom: number } {
  const mean = repeats.reduce((sum, value) => sum + value, 0) / repeats.length;
  return {
    squares: repeats.reduce((sum, value) => sum + (value - mean) ** 2, 0),
    freedom: repeats.length - 1,
  };
}
