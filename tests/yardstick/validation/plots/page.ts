import { agreement, type Figure } from '../agreement.ts';
import { GOALS } from '../goals.ts';
import type { ReportFacts } from '../report.ts';
import { rowTenths } from '../row-rule.ts';
import type { SetFigures } from '../set-figures.ts';
import { agreementPlot, coveragePlot, flexionGroups, flexionPlot, one, type Cell } from './elbow-plots.ts';
import { rowPlot, timePlot, type TimeErrors } from './event-plots.ts';
import { pageStyle } from './page-style.ts';
import { element, escaped } from './svg.ts';

const MOVEMENTS = [
  ['standing', 'Standing curls'],
  ['hold', 'Holds'],
  ['body-curl', 'Body-moving curl'],
] as const;

/** Errors beyond so many seconds leave the field of a plot. */
const MOST_SECONDS = { hold: 3, lowering: 1 } as const;

const percent = (share: number): string => `${(share * 100).toFixed(0)} %`;
const withInterval = ({ value, low, high }: Figure): string => `${one(value)} (${one(low)} to ${one(high)})`;

/**
 * The figures of a validation as a page of plots that needs nothing else: no script, no picture, no font from elsewhere.
 * tokens: the style sheet in which the app's colours stand. Every plot's numbers stand in a table below it.
 */
export function plotPage(
  figures: readonly SetFigures[],
  facts: Pick<ReportFacts, 'set' | 'model' | 'rateHz' | 'command'>,
  tokens: string,
): string {
  const cells = cellsOf(figures);
  const body = [
    element('h1', {}, 'How far the numbers can be trusted: plots'),
    element(
      'p',
      {},
      `Made by <code>${escaped(facts.command)}</code>. ${String(figures.length)} sets of the ${facts.set} set of rendered people whose true angles are known; landmarks of the ${facts.model} network, ${String(facts.rateHz)} pictures a second. The same figures with their goals stand in <a href="validation.md">validation.md</a>. They say nothing about real people, of whom no true angles are known here.`,
    ),
    section(
      'Measured and true elbow angle',
      'Each dot is one picture (40 of each set, evenly over its time): measured less true over true flexion. The truth is free of error, so it is what the difference is drawn over, not the mean of both. Full line: bias. Dashed lines: limits of agreement, bias less and plus 1.96 standard deviations.',
      cells.map((cell, i) => {
        const of = ofElbow(cell);
        return of === null ? '' : agreementPlot(cell, of, `agreement-${String(i)}`);
      }),
      agreementTable(cells),
    ),
    section(
      'Error over flexion',
      'Median error of the elbow in groups of 15 degrees of true flexion; each line is one turn of the camera, named at its end.',
      movementsOf(cells).map(([movement, words, own]) => flexionPlot(words, own, `flexion-${movement}`)),
      flexionTable(cells),
    ),
    section(
      'Does the interval hold the truth?',
      'Share of pictures whose 95 % interval of the elbow holds the true angle, with the 95 % interval that the sets give that share. Shaded: the goal.',
      movementsOf(cells).map(([movement, words, own]) =>
        coveragePlot(
          words,
          own.flatMap((cell) => {
            const of = ofElbow(cell);
            return of === null ? [] : [{ yaw: cell.yaw, of }];
          }),
          GOALS.coverage,
          `coverage-${movement}`,
        ),
      ),
      coverageTable(cells),
    ),
    section(
      'Hold time and lowering time',
      'Each dot is one set (holds) or one repetition (lowering) whose number was found right; bar: median. Shaded: the goal.',
      timePlots(cells),
      timeTable(cells),
    ),
    section(
      'Curl or row',
      'Repetitions by the share of the work of lifting that the shoulder truly does, and what was said of them. Filled: called shoulder-dominant. Open: called a curl. Hatched: not judged. Shaded: where either answer is right.',
      [rowPlot(tenthsOf(figures), GOALS.greyZone, 'row')],
      rowTable(figures),
    ),
  ];
  return `<!doctype html>
<html lang="en">
<head>
<meta charset="utf-8">
<meta name="viewport" content="width=device-width, initial-scale=1">
<title>How far the numbers can be trusted: plots</title>
<style>${pageStyle(tokens)}</style>
</head>
<body>
<svg class="patterns" aria-hidden="true"><defs><pattern id="hatch" width="5" height="5" patternUnits="userSpaceOnUse" patternTransform="rotate(45)"><line class="hatch" x1="0" y1="0" x2="0" y2="5"/></pattern></defs></svg>
<main>
${body.join('\n')}
</main>
</body>
</html>
`;
}

function section(heading: string, words: string, plots: readonly string[], table: string): string {
  const figures = plots.filter((plot) => plot !== '').map((plot) => element('figure', {}, plot));
  return element(
    'section',
    {},
    element('h2', {}, escaped(heading)),
    element('p', {}, escaped(words)),
    element('div', { class: 'plots' }, ...figures),
    table,
  );
}

function cellsOf(figures: readonly SetFigures[]): Cell[] {
  const bands = [...new Set(figures.map(({ yawBandDeg }) => yawBandDeg))].sort((a, b) => a - b);
  return MOVEMENTS.flatMap(([movement, words]) =>
    bands.map((yaw) => ({
      words,
      yaw,
      sets: figures.filter((set) => set.movement === movement && set.yawBandDeg === yaw),
    })),
  ).filter(({ sets }) => sets.length > 0);
}

function movementsOf(cells: readonly Cell[]): (readonly [string, string, Cell[]])[] {
  return MOVEMENTS.map(
    ([movement, words]) => [movement, words, cells.filter((cell) => cell.words === words)] as const,
  ).filter(([, , own]) => own.length > 0);
}

const ofElbow = ({ sets }: Cell) => agreement(sets.map(({ readings }) => readings.elbow));

function table(
  caption: string,
  head: readonly string[],
  rows: readonly (readonly string[])[],
  namedBy = 2,
): string {
  const line = (cells: readonly string[]): string =>
    cells
      .map((cell, i) => (i < namedBy ? `<th scope="row">${escaped(cell)}</th>` : `<td>${escaped(cell)}</td>`))
      .join('');
  return element(
    'div',
    { class: 'table', tabindex: 0, role: 'region', 'aria-label': caption },
    element(
      'table',
      {},
      element('caption', {}, escaped(caption)),
      element('thead', {}, element('tr', {}, ...head.map((cell) => `<th scope="col">${escaped(cell)}</th>`))),
      element('tbody', {}, ...rows.map((cells) => element('tr', {}, line(cells)))),
    ),
  );
}

const nameOf = ({ words, yaw }: Cell): [string, string] => [words, `${String(yaw)}°`];

function agreementTable(cells: readonly Cell[]): string {
  const rows = cells.map((cell) => {
    const of = ofElbow(cell);
    const kept = `${String(of?.sets ?? 0)} of ${String(cell.sets.length)}`;
    if (of === null) return [...nameOf(cell), kept, 'none', 'none', 'none'];
    const [low, high] = of.limits;
    return [
      ...nameOf(cell),
      kept,
      withInterval(of.bias),
      withInterval(of.meanAbsolute),
      `${one(low)} to ${one(high)}`,
    ];
  });
  const head = [
    'movement',
    'camera yaw',
    'sets measured',
    'bias, deg',
    'mean absolute error, deg',
    'limits of agreement, deg',
  ];
  return table('Agreement of the elbow angle', head, rows);
}

function flexionTable(cells: readonly Cell[]): string {
  const groups = cells.map(flexionGroups);
  const from = [...new Set(groups.flat().map(({ fromDeg }) => fromDeg))].sort((a, b) => a - b);
  const rows = cells.flatMap((cell, i) =>
    groups[i]?.length === 0
      ? []
      : [
          [
            ...nameOf(cell),
            ...from.map((deg) => {
              const group = groups[i]?.find(({ fromDeg }) => fromDeg === deg);
              return group === undefined
                ? ''
                : `${one(group.middle)} (${one(group.low)} to ${one(group.high)})`;
            }),
          ],
        ],
  );
  const head = ['movement', 'camera yaw', ...from.map((deg) => `${String(deg)} to ${String(deg + 15)} deg`)];
  return table(
    'Median error, and between which 90 % of the errors lie, degrees, by true flexion',
    head,
    rows,
  );
}

function coverageTable(cells: readonly Cell[]): string {
  const rows = cells.flatMap((cell) => {
    const of = ofElbow(cell);
    if (of === null) return [];
    const { value, low, high } = of.coverage;
    return [
      [...nameOf(cell), `${percent(value)} (${percent(low)} to ${percent(high)})`, `± ${one(of.halfWidth)}`],
    ];
  });
  return table(
    'Inside the 95 % interval',
    ['movement', 'camera yaw', 'inside', 'median interval, deg'],
    rows,
  );
}

const holdErrors = ({ yaw, sets }: Cell): TimeErrors => ({
  yaw,
  errorsSeconds: sets.flatMap(({ hold, readings }) =>
    hold === null || readings.elbow.length === 0 ? [] : [hold.seconds - hold.trueSeconds],
  ),
});

const loweringErrors = ({ yaw, sets }: Cell): TimeErrors => ({
  yaw,
  errorsSeconds: sets.flatMap(({ lowering }) =>
    lowering.map(({ seconds, trueSeconds }) => seconds - trueSeconds),
  ),
});

/** Goals of times, seconds, as goals.ts has them. */
const GOAL_SECONDS = { hold: 0.3, lowering: 0.15 } as const;

function timePlots(cells: readonly Cell[]): string[] {
  return movementsOf(cells).map(([movement, words, own]) =>
    movement === 'hold'
      ? timePlot(
          `${words}: time in the range`,
          own.map(holdErrors),
          GOAL_SECONDS.hold,
          MOST_SECONDS.hold,
          'time-hold',
        )
      : timePlot(
          `${words}: lowering`,
          own.map(loweringErrors),
          GOAL_SECONDS.lowering,
          MOST_SECONDS.lowering,
          `time-${movement}`,
        ),
  );
}

function timeTable(cells: readonly Cell[]): string {
  const rows = cells.flatMap((cell) => {
    const isHold = cell.words === 'Holds';
    const { errorsSeconds } = isHold ? holdErrors(cell) : loweringErrors(cell);
    if (errorsSeconds.length === 0) return [];
    const goal = isHold ? GOAL_SECONDS.hold : GOAL_SECONDS.lowering;
    const sorted = errorsSeconds.toSorted((a, b) => a - b);
    const at = (q: number): string => (sorted[Math.round(q * (sorted.length - 1))] ?? NaN).toFixed(2);
    const within = errorsSeconds.filter((error) => Math.abs(error) <= goal).length;
    return [
      [
        ...nameOf(cell),
        String(sorted.length),
        at(0.5),
        `${at(0.1)} to ${at(0.9)}`,
        percent(within / sorted.length),
      ],
    ];
  });
  const head = ['movement', 'camera yaw', 'times', 'median error, s', '80 % of errors, s', 'within the goal'];
  return table('Found less true time', head, rows);
}

const tenthsOf = (figures: readonly SetFigures[]) => rowTenths(figures.flatMap(({ rows }) => rows));

function rowTable(figures: readonly SetFigures[]): string {
  const rows = tenthsOf(figures).map(({ from, repetitions, dominant, unsaid }) => [
    `${percent(from)} to ${percent(from + 0.1)}`,
    String(repetitions),
    String(repetitions - dominant - unsaid),
    String(dominant),
    String(unsaid),
  ]);
  const head = [
    'shoulder’s true share of the work',
    'repetitions',
    'called curl',
    'called shoulder-dominant',
    'not judged',
  ];
  return table('What was said', head, rows, 1);
}
