import { isHoldKept, isTimeKept, type StrainFigures } from './strain-figures.ts';
import { STRAIN_KIND_NAMES, STRAIN_KINDS } from './strain-sets.ts';
import { wilsonShare } from './wilson.ts';

const percent = (share: number): string => (100 * share).toFixed(1);

function cell(seen: readonly boolean[]): string {
  if (seen.length === 0) return '';
  const { hits, of, low, high } = wilsonShare(seen);
  return `${percent(hits / of)} (${percent(low)} to ${percent(high)}) of ${String(of)}`;
}

const HEAD = [
  'strain',
  'repetitions exact',
  'partials exact',
  'bending within 0.15 s',
  'lowering within 0.15 s',
  'hold within 0.3 s',
  'live as the record',
];

function row(name: string, figures: readonly StrainFigures[]): string[] {
  return [
    name,
    cell(figures.flatMap(({ repetitionsExact: exact }) => exact ?? [])),
    cell(figures.flatMap(({ partialsExact: exact }) => exact ?? [])),
    cell(figures.flatMap(({ bendingErrorsSeconds }) => bendingErrorsSeconds.map(isTimeKept))),
    cell(figures.flatMap(({ loweringErrorsSeconds }) => loweringErrorsSeconds.map(isTimeKept))),
    cell(figures.flatMap(({ holdErrorSeconds: error }) => (error === null ? [] : [isHoldKept(error)]))),
    cell(figures.map(({ liveAgrees }) => liveAgrees)),
  ];
}

/** The figures as a Markdown table: a row for each strain, for all, and for the two sorts of movement. */
export function strainTable(figures: readonly StrainFigures[]): string {
  const rows = [
    ...STRAIN_KIND_NAMES.map((kind) =>
      row(
        STRAIN_KINDS[kind],
        figures.filter((one) => one.kind === kind),
      ),
    ),
    row('all', figures),
    row(
      'all minimum-jerk',
      figures.filter(({ isMinimumJerk }) => isMinimumJerk),
    ),
    row(
      'all others',
      figures.filter(({ isMinimumJerk }) => !isMinimumJerk),
    ),
  ];
  return [HEAD, HEAD.map(() => '---'), ...rows].map((cells) => `| ${cells.join(' | ')} |`).join('\n');
}
