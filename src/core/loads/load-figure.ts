/**
 * What a figure of statics is an estimate of; the sentence for each stands in feedback/statics-words.ts. Every figure of
 * this folder names one, so that none is shown as if it had been measured.
 */
export const ESTIMATED_QUANTITIES = [
  'bar-ceiling',
  'bar-tipping-force',
  'bar-hold-moment',
  'hand-share',
  'hand-force',
  'feet-friction',
  'body-curl-elbow-moment',
  'body-curl-shoulder-moment',
  'band-tension',
  'band-flexion-moment',
  'band-pronating-moment',
  'weight-flexion-moment',
  'forearm-weight-moment',
  'demand-over-capacity',
  'biceps-moment',
  'biceps-tendon-force',
  'weight-below-share',
  'time-under-tension',
  'elbow-impulse',
] as const;
export type EstimatedQuantity = (typeof ESTIMATED_QUANTITIES)[number];

/**
 * A figure of statics: the value, the least and the most that the stated doubts make of it (all in the unit of the
 * field's name), and what it is an estimate of. least <= value <= most.
 */
export interface LoadFigure {
  readonly value: number;
  readonly least: number;
  readonly most: number;
  readonly of: EstimatedQuantity;
}

/** Why a figure cannot be given. */
export const LOAD_PROBLEMS = [
  'no-body-mass',
  'no-ceiling',
  'bar-does-not-rest',
  'not-held-by-this-force',
  'out-of-reach',
  'outside-capacity-table',
  'readings-too-close',
  'readings-do-not-rise',
  'stretched-beyond-readings',
  'not-a-load-of-this-exercise',
] as const;
export type LoadProblem = (typeof LOAD_PROBLEMS)[number];

/** No figure, and why. */
export interface NotKnown {
  readonly notKnown: LoadProblem;
}

/** A figure, or the reason why there is none. */
export type LoadValue = LoadFigure | NotKnown;

/** True when there is a figure. */
export function isKnown<T extends object>(value: T | NotKnown): value is T {
  return !('notKnown' in value);
}

/** No figure, with its reason. */
export function notKnown(problem: LoadProblem): NotKnown {
  return { notKnown: problem };
}

/** A figure whose doubt is a share of it, either way; share at least 0. */
export function figureWithin(value: number, share: number, of: EstimatedQuantity): LoadFigure {
  const half = Math.abs(value) * share;
  return { value, least: value - half, most: value + half, of };
}

/** Every bound multiplied by one factor of either sign, as another quantity or the same. */
export function scaled(figure: LoadFigure, factor: number, of: EstimatedQuantity = figure.of): LoadFigure {
  // 0 + x, so that nothing times nothing is 0 and never -0.
  const ends = [0 + figure.least * factor, 0 + figure.most * factor];
  return { value: 0 + figure.value * factor, least: Math.min(...ends), most: Math.max(...ends), of };
}

/**
 * Sum of figures whose doubts are shared (one band, one body, one camera gave them all): bounds are added, so that the
 * sum of many is as unsure, as a share of itself, as each.
 */
export function sumOf(figures: readonly LoadFigure[], of: EstimatedQuantity): LoadFigure {
  const sum = (pick: (figure: LoadFigure) => number): number =>
    figures.reduce((total, figure) => total + pick(figure), 0);
  return {
    value: sum(({ value }) => value),
    least: sum(({ least }) => least),
    most: sum(({ most }) => most),
    of,
  };
}

/** Sum of figures whose doubts have nothing to do with each other: the distances to the bounds are added in squares. */
export function independentSum(figures: readonly LoadFigure[], of: EstimatedQuantity): LoadFigure {
  const value = figures.reduce((total, figure) => total + figure.value, 0);
  const root = (distance: (figure: LoadFigure) => number): number => Math.hypot(...figures.map(distance));
  return {
    value,
    least: value - root((figure) => figure.value - figure.least),
    most: value + root((figure) => figure.most - figure.value),
    of,
  };
}

/** What a doubt does: the inputs with one of them moved down or up by its half-width. */
export type Doubt<Input> = (input: Input, sign: -1 | 1) => Input;

/**
 * A figure with the doubts of its inputs carried through: each input is moved either way alone, and the distances to
 * the value are added in squares, downward and upward apart (GUM 1995, 5.1.2, with finite steps).
 * @param evaluate - null where there is no value; a moved input without one counts for nothing
 * @returns null when there is no value at all
 */
export function figureWithDoubts<Input>(
  evaluate: (input: Input) => number | null,
  input: Input,
  doubts: readonly Doubt<Input>[],
  of: EstimatedQuantity,
): LoadFigure | null {
  const value = evaluate(input);
  if (value === null) return null;
  let [down, up] = [0, 0];
  for (const doubt of doubts) {
    const changes = ([-1, 1] as const).map((sign) => (evaluate(doubt(input, sign)) ?? value) - value);
    down += Math.min(0, ...changes) ** 2;
    up += Math.max(0, ...changes) ** 2;
  }
  return { value, least: value - Math.sqrt(down), most: value + Math.sqrt(up), of };
}
