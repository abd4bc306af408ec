import { FOREARM_CATEGORIES } from './category.ts';

/** What was seen, as a list of numbers, and the place of its true category among FOREARM_CATEGORIES. */
export interface Example {
  readonly features: readonly number[];
  readonly category: number;
}

/** Gives how likely each category is, in the order of FOREARM_CATEGORIES; they sum to 1. */
export type Classifier = (features: readonly number[]) => number[];

/** Weight of the squared coefficients against the mean log loss: keeps a few dozen bodies from being learned by heart. */
const RIDGE = 0.02;
const ROUNDS = 150;
const STEP = 1;

/** Multinomial logistic regression on standardised features, by descent along the gradient; the same every time. */
export function learnCategories(examples: readonly Example[]): Classifier {
  const width = examples[0]?.features.length ?? 0;
  const places = Array.from({ length: width }, (_, i) => examples.map(({ features }) => features[i] ?? 0));
  const means = places.map(mean);
  const deviations = places.map((values, i) => {
    const centre = means[i] ?? 0;
    return Math.sqrt(mean(values.map((value) => (value - centre) ** 2))) || 1;
  });
  const standardised = (features: readonly number[]): number[] => [
    1,
    ...features.map((value, i) => (value - (means[i] ?? 0)) / (deviations[i] ?? 1)),
  ];
  const rows = examples.map(({ features, category }) => ({ row: standardised(features), category }));
  const weights = FOREARM_CATEGORIES.map(() => new Array<number>(width + 1).fill(0));
  for (let round = 0; round < ROUNDS; round++) descendOnce(rows, weights);
  return (features) => probabilities(standardised(features), weights);
}

function descendOnce(
  rows: readonly { readonly row: readonly number[]; readonly category: number }[],
  weights: readonly number[][],
): void {
  const slopes = weights.map((own) => own.map((weight, i) => (i === 0 ? 0 : 2 * RIDGE * weight)));
  for (const { row, category } of rows) {
    probabilities(row, weights).forEach((likely, which) => {
      const miss = (likely - (which === category ? 1 : 0)) / rows.length;
      const slope = slopes[which];
      if (slope) row.forEach((value, i) => (slope[i] = (slope[i] ?? 0) + miss * value));
    });
  }
  weights.forEach((own, which) =>
    own.forEach((weight, i) => (own[i] = weight - STEP * (slopes[which]?.[i] ?? 0))),
  );
}

function probabilities(row: readonly number[], weights: readonly (readonly number[])[]): number[] {
  const scores = weights.map((own) => row.reduce((sum, value, i) => sum + value * (own[i] ?? 0), 0));
  const highest = Math.max(...scores);
  const raised = scores.map((score) => Math.exp(score - highest));
  const sum = raised.reduce((all, value) => all + value, 0);
  return raised.map((value) => value / sum);
}

const mean = (values: readonly number[]): number =>
  values.reduce((sum, value) => sum + value, 0) / Math.max(1, values.length);
