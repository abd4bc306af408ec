import type { ArmFigures, ClipFigures } from './clip-figures.ts';
import type { TwoViews } from './two-views.ts';

/** The figures of a clip as a network saw it. */
interface NamedFigures {
  readonly clip: string;
  readonly network: string;
  readonly figures: ClipFigures;
}

const percent = (share: number): string => (Number.isFinite(share) ? `${(share * 100).toFixed(0)} %` : '');
const degrees = (value: number | null): string =>
  value === null || !Number.isFinite(value) ? '' : value.toFixed(1);
const lengthScatter = (share: number | undefined): string =>
  share === undefined ? '' : `${(share * 100).toFixed(1)} %`;

function table(head: readonly string[], rows: readonly (readonly string[])[]): string {
  const line = (cells: readonly string[]): string => `| ${cells.join(' | ')} |`;
  return [line(head), line(head.map(() => '---')), ...rows.map(line)].join('\n');
}

/** What was measured, how smoothly, and whose labels changed sides. */
export function measuredTable(all: readonly NamedFigures[]): string {
  const rows = all.flatMap(({ clip, network, figures }) =>
    figures.arms.map((arm) => [
      clip,
      network,
      arm.side,
      `${percent(arm.measuredShare)} of ${String(figures.pictures)}`,
      arm.commonestReason ?? '',
      arm.rangeDeg === null ? '' : `${arm.rangeDeg[0].toFixed(0)} to ${arm.rangeDeg[1].toFixed(0)}`,
      arm.medianHalfWidthDeg === null ? '' : `± ${degrees(arm.medianHalfWidthDeg)}`,
      degrees(arm.roughnessDeg),
      String(arm.jumps),
      String(figures.exchangesFound),
      String(figures.exchangesLeft),
    ]),
  );
  const head = [
    'clip',
    'network',
    'arm',
    'pictures measured',
    'commonest reason of the others',
    'elbow, deg',
    'median interval',
    'off its neighbours, deg (median)',
    'jumps',
    'labels exchanged by the network',
    'left after the gate',
  ];
  return table(head, rows);
}

/** How constant limb lengths are, with the network's elbow where it is, put back as usual, and put back as suits best. */
export function lengthTable(all: readonly NamedFigures[]): string {
  const rows = all.flatMap(({ clip, network, figures }) =>
    figures.arms
      .filter(({ lengths }) => lengths !== null)
      .map((arm) => [clip, network, arm.side, ...lengthCells(arm)]),
  );
  const head = [
    'clip',
    'network',
    'arm',
    'upper arm / forearm, elbow as found',
    'put back as the chain does',
    'put back as suits best',
    'which is, upper arms',
    'forearm over upper arm: as found, as the chain does',
  ];
  return table(head, rows);
}

function lengthCells({ lengths }: ArmFigures): string[] {
  if (lengths === null) return [];
  const { none, usual, best } = lengths;
  const both = (of: typeof none): string => `${lengthScatter(of.upperArm)} / ${lengthScatter(of.forearm)}`;
  return [
    both(none),
    both(usual),
    both(best),
    best.elbowShort.toFixed(2),
    `${none.ratio.toFixed(2)}, ${usual.ratio.toFixed(2)}`,
  ];
}

/** How two cameras agree. */
export function viewsTable(
  views: readonly { readonly network: string; readonly side: string; readonly of: TwoViews | null }[],
): string {
  const rows = views.map(({ network, side, of }) =>
    of === null
      ? [network, side, 'no moment in common', '', '', '']
      : [
          network,
          side,
          `${String(of.both)} of ${String(of.moments)}`,
          degrees(of.meanDifferenceDeg),
          degrees(of.meanAbsoluteDeg),
          percent(of.agreeing),
        ],
  );
  const head = [
    'network',
    'arm',
    'moments measured by both',
    'mean difference, deg',
    'mean absolute difference, deg',
    'no larger than both intervals allow',
  ];
  return table(head, rows);
}
