import type { SetFigures } from './set-figures.ts';

/** A repetition's true share of the shoulder in the work of lifting, and what was said of it. */
export type RowSaying = SetFigures['rows'][number];

/** Hits and misses outside a grey zone of the true share. */
export interface RowRule {
  readonly greyFrom: number;
  readonly greyTo: number;
  /** Share of repetitions above the zone that were called shoulder-dominant. */
  readonly sensitivity: number;
  /** Share of repetitions below it that were called a curl. */
  readonly specificity: number;
  readonly above: number;
  readonly below: number;
  /** Repetitions of which nothing was said. */
  readonly unsaid: number;
}

/** What was said on either side of a grey zone, from and to as shares of the work. */
export function rowRule(sayings: readonly RowSaying[], greyFrom: number, greyTo: number): RowRule {
  const said = sayings.filter((saying) => saying.said !== null);
  const above = said.filter(({ shoulderWorkShare }) => shoulderWorkShare > greyTo);
  const below = said.filter(({ shoulderWorkShare }) => shoulderWorkShare < greyFrom);
  return {
    greyFrom,
    greyTo,
    sensitivity: shareOf(above, true),
    specificity: shareOf(below, false),
    above: above.length,
    below: below.length,
    unsaid: sayings.length - said.length,
  };
}

function shareOf(sayings: readonly RowSaying[], wanted: boolean): number {
  return sayings.filter(({ said }) => said === wanted).length / sayings.length;
}

/** Tenths of the true share: how many repetitions, and how many of them were called shoulder-dominant. */
export function rowTenths(sayings: readonly RowSaying[]): {
  readonly from: number;
  readonly repetitions: number;
  readonly dominant: number;
  readonly unsaid: number;
}[] {
  return Array.from({ length: 10 }, (_, tenth) => {
    const inside = sayings.filter(
      ({ shoulderWorkShare }) => Math.min(9, Math.floor(shoulderWorkShare * 10)) === tenth,
    );
    return {
      from: tenth / 10,
      repetitions: inside.length,
      dominant: inside.filter(({ said }) => said === true).length,
      unsaid: inside.filter(({ said }) => said === null).length,
    };
  });
}
