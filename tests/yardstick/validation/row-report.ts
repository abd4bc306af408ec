import { isMeasured } from '../../../src/core/kinematics/measured.ts';
import { GOALS } from './goals.ts';
import { percent, table } from './markdown.ts';
import { rowRule, rowTenths } from './row-rule.ts';
import type { RowSaying } from './set-figures.ts';

/** Curl or row in tables: by tenths of the true share, and by the view from either side. */
export function rowSection(sayings: readonly RowSaying[]): string[] {
  return [
    'The truth is the shoulder extensors’ share of the work of lifting by the generator’s joint moments. It takes the hands’ force as the smallest that holds the body, and so does the measurement: where a real person’s force points is not seen, and with the same movement a force that is 20 deg more upright gives the shoulder far more of the work.',
    '',
    ...tenthsTable(sayings),
    '',
    ...viewTable(sayings),
  ];
}

function tenthsTable(sayings: readonly RowSaying[]): string[] {
  const rows = rowTenths(sayings).map(({ from, sayings: inside, repetitions, dominant, unsaid }) => {
    const of = errors(inside);
    return [
      `${percent(from)} to ${percent(from + 0.1)}`,
      String(repetitions),
      String(dominant),
      String(unsaid),
      percent(of.bias),
      percent(of.meanAbsolute),
      percent(of.coverage),
    ];
  });
  const head = ['true share', 'repetitions', 'called shoulder-dominant', 'not judged', ...ERROR_HEAD];
  return table(head, rows);
}

const ERROR_HEAD = ['bias of the share', 'mean absolute error', 'inside the interval'];

function viewTable(sayings: readonly RowSaying[]): string[] {
  const bands = [...new Set(sayings.map(({ yawBandDeg }) => yawBandDeg))].sort((a, b) => a - b);
  const groups: (readonly [string, readonly RowSaying[]])[] = [
    ...bands.flatMap((band) =>
      (['left', 'right'] as const).map(
        (side) =>
          [
            `${String(band)}°, ${side} side`,
            sayings.filter((saying) => saying.yawBandDeg === band && saying.side === side),
          ] as const,
      ),
    ),
    ['all', sayings],
  ];
  const rows = groups.map(([words, group]) => {
    const rule = rowRule(group, ...GOALS.greyZone);
    const of = errors(group);
    return [
      words,
      String(group.length),
      percent(rule.unsaid / group.length),
      `${percent(rule.sensitivity)} of ${String(rule.above)}`,
      `${percent(rule.specificity)} of ${String(rule.below)}`,
      percent(of.bias),
      percent(of.meanAbsolute),
      percent(of.coverage),
    ];
  });
  return table(['view', 'repetitions', 'not judged', 'sensitivity', 'specificity', ...ERROR_HEAD], rows);
}

/** How the measured share lies to the true one, over those that were measured. */
function errors(sayings: readonly RowSaying[]): {
  readonly bias: number;
  readonly meanAbsolute: number;
  readonly coverage: number;
} {
  const pairs = sayings.flatMap(({ measured, shoulderWorkShare: truth }) =>
    isMeasured(measured) ? [{ ...measured, truth }] : [],
  );
  const mean = (of: (pair: (typeof pairs)[number]) => number): number =>
    pairs.reduce((sum, pair) => sum + of(pair), 0) / pairs.length;
  // A share that both say is none lies at the end of an interval of no width: a thousandth is no miss.
  const SLACK = 0.001;
  return {
    bias: mean(({ value, truth }) => value - truth),
    meanAbsolute: mean(({ value, truth }) => Math.abs(value - truth)),
    coverage: mean(({ low, high, truth }) => Number(truth >= low - SLACK && truth <= high + SLACK)),
  };
}
