import type { RowSaying } from './set-figures.ts';

/** Hits and misses outside a grey zone of the true share. */
export interface RowRule {
  readonly greyFrom: number;
  readonly greyTo: number;
  /** Share of the judged repetitions above the zone that were called shoulder-dominant. */
  readonly sensitivity: number;
  /** Share of the judged ones below it that were called a curl. */
  readonly specificity: number;
  /** Judged ones above and below it. */
  readonly above: number;
  readonly below: number;
  /** Repetitions, in and outside the zone, of which nothing was said. */
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

/** One tenth of the true share: its repetitions, how many were called shoulder-dominant and of how many nothing was said. */
interface RowTenth {
  readonly from: number;
  readonly sayings: readonly RowSaying[];
  readonly repetitions: number;
  readonly dominant: number;
  readonly unsaid: number;
}

/** The tenths of the true share, the whole in the last. */
export function rowTenths(sayings: readonly RowSaying[]): RowTenth[] {
  return Array.from({ length: 10 }, (_, tenth) => {
    const inside = sayings.filter(
      ({ shoulderWorkShare }) => Math.min(9, Math.floor(shoulderWorkShare * 10)) === tenth,
    );
    return {
      from: tenth / 10,
      sayings: inside,
      repetitions: inside.length,
      dominant: inside.filter(({ said }) => said === true).length,
      unsaid: inside.filter(({ said }) => said === null).length,
    };
  });
}
