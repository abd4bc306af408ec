import { agreement, bootstrappedMean, meanAbsolute, type Figure } from './agreement.ts';
import { forearmGoals, forearmTable } from './forearm.ts';
import { GOALS, type ShareGoal } from './goals.ts';
import { percent, table } from './markdown.ts';
import { LOOK_HEAD, lookRows, type LookErrors } from './looks-beside.ts';
import { rowSection } from './row-report.ts';
import { rowRule } from './row-rule.ts';
import { timesTable } from './times-table.ts';
import type { Movement } from './case-settings.ts';
import type { Quantity, Reading, SetFigures } from './set-figures.ts';

const MOVEMENTS: readonly (readonly [Movement, string])[] = [
  ['standing', 'Standing curls'],
  ['hold', 'Holds'],
  ['body-curl', 'Body-moving curl'],
];
const QUANTITY_WORDS: readonly (readonly [Quantity, string])[] = [
  ['elbow', 'Elbow flexion, deg'],
  ['shoulder', 'Shoulder flexion, deg'],
  ['trunk', 'Trunk inclination, deg'],
  ['travel', 'Torso travel from the set’s start, cm'],
];

/** What the report is of. */
export interface ReportFacts {
  readonly set: string;
  readonly model: string;
  readonly rateHz: number;
  readonly command: string;
  /** What the networks' hand landmarks would allow, as Markdown. */
  readonly forearmTrial: readonly string[];
  /** What each network alone misses in the drawn pictures, case by case. */
  readonly looks: readonly LookErrors[];
}

/** The report as Markdown: tables for each quantity, movement and band of yaw, and the goals with what was reached. */
export function validationReport(figures: readonly SetFigures[], facts: ReportFacts): string {
  return [
    '# How far the numbers can be trusted',
    '',
    `Made by \`${facts.command}\`. ${String(figures.length)} sets of the ${facts.set} set of rendered people whose true angles are known, none of whom the constants were chosen on; landmarks of the \`${facts.model}\` network, ${String(facts.rateHz)} pictures a second, the chain of the record. Intervals in brackets are 95 % bootstrap intervals over sets. They say nothing about real people, of whom no true angles are known here.`,
    '',
    ...QUANTITY_WORDS.flatMap(([quantity, words]) => [
      `## ${words}`,
      '',
      ...agreementTable(figures, quantity),
      '',
    ]),
    '## What the network and what projection contribute',
    '',
    'Mean absolute error of the elbow, degrees: of the plain angle between landmarks in the picture against the true joints in the picture (network), and of the true joints in the picture against the true angle (projection, what a faultless network would be left with). The last column is the chain once more with the camera’s true turn and pitch given to the arm’s plane to within a degree: more than a tilt sensor, a known bar or a hand that stays could tell of them. What it does not mend is the network’s.',
    '',
    ...sourceTable(figures),
    '',
    'The networks side by side in the pictures as they were drawn: mean absolute error of the angle in the picture against that of the true joints there, in brackets the mean with its sign; `combined` is of three looks (`full`, `full` mirrored, `heavy`). Projection as above.',
    '',
    ...table(LOOK_HEAD, lookRows(facts.looks, MOVEMENTS)),
    '',
    '## Repetitions and holds',
    '',
    ...countTable(figures),
    '',
    '## Times, and what the angle’s error costs them',
    '',
    'Judging given the true angle instead of the measured one, and the true angle read wrong by the same everywhere: what is amiss at 0° is judging’s own, the rest follows from the angle. A hold that stays near an edge of its range is in or out of it by a degree.',
    '',
    ...timesTable(figures),
    '',
    'How repetitions, partial ones and holds are counted under gaps, pauses, bounces, tremor and walking stands in what `npm run strain` prints; no set here has a partial repetition.',
    '',
    '## Curl or row',
    '',
    ...rowSection(figures.flatMap(({ rows }) => rows)),
    '',
    '## Forearm rotation',
    '',
    'Pictures in which the hand is in view:',
    '',
    ...forearmTable(figures),
    '',
    ...facts.forearmTrial,
    '',
    '## Goals',
    '',
    ...goalLines(figures),
    '',
  ].join('\n');
}

function cells(figures: readonly SetFigures[]): { words: string; yaw: number; sets: SetFigures[] }[] {
  const bands = [...new Set(figures.map(({ yawBandDeg }) => yawBandDeg))].sort((a, b) => a - b);
  return MOVEMENTS.flatMap(([movement, words]) =>
    bands.map((yaw) => ({
      words,
      yaw,
      sets: figures.filter((set) => set.movement === movement && set.yawBandDeg === yaw),
    })),
  ).filter(({ sets }) => sets.length > 0);
}

const one = (value: number): string => value.toFixed(1);
const withInterval = ({ value, low, high }: Figure): string => `${one(value)} (${one(low)} to ${one(high)})`;

function agreementTable(figures: readonly SetFigures[], quantity: Quantity): string[] {
  const rows = cells(figures).map(({ words, yaw, sets }) => {
    const of = agreement(sets.map(({ readings }) => readings[quantity]));
    const measured = sets.reduce((sum, set) => sum + set.readings[quantity].length, 0);
    const pictures = sets.reduce((sum, set) => sum + set.pictures, 0);
    const kept = `${String(of?.sets ?? 0)} of ${String(sets.length)}`;
    if (of === null) return [words, `${String(yaw)}°`, kept, percent(0), '', '', '', '', '', ''];
    const [low, high] = of.limits;
    return [
      words,
      `${String(yaw)}°`,
      kept,
      percent(measured / pictures),
      withInterval(of.bias),
      withInterval(of.meanAbsolute),
      one(of.p95),
      `${one(low)} to ${one(high)}`,
      percent(of.coverage.value),
      `± ${one(of.halfWidth)}`,
    ];
  });
  const head = [
    'movement',
    'camera yaw',
    'sets measured',
    'pictures measured',
    'bias',
    'mean absolute error',
    '95th percentile',
    'limits of agreement',
    'inside the interval',
    'median interval',
  ];
  return table(head, rows);
}

const errors = (readings: readonly Reading[]): number[] => readings.map(({ value, truth }) => value - truth);

function sourceTable(figures: readonly SetFigures[]): string[] {
  const rows = cells(figures).map(({ words, yaw, sets }) => [
    words,
    `${String(yaw)}°`,
    one(meanAbsolute(sets.flatMap(({ networkErrorsDeg }) => networkErrorsDeg))),
    one(meanAbsolute(sets.flatMap(({ projectionErrorsDeg }) => projectionErrorsDeg))),
    one(meanAbsolute(sets.flatMap(({ readings }) => errors(readings.elbow)))),
    one(meanAbsolute(sets.flatMap(({ elbowByTrueCamera }) => errors(elbowByTrueCamera)))),
  ]);
  return table(
    [
      'movement',
      'camera yaw',
      'network',
      'projection',
      'as measured',
      'given the camera’s true turn and pitch',
    ],
    rows,
  );
}

function countTable(figures: readonly SetFigures[]): string[] {
  const rows = cells(figures).map(({ words, yaw, sets }) => [
    words,
    `${String(yaw)}°`,
    String(sets.length),
    words === 'Holds' ? '' : percent(GOALS.repetitions.share(sets)),
    words === 'Holds' ? percent(GOALS.holdTime.share(sets)) : '',
    words === 'Holds' ? '' : percent(GOALS.lowering.share(sets)),
    words === 'Holds' ? '' : percent(GOALS.travel.share(sets)),
  ]);
  const head = [
    'movement',
    'camera yaw',
    'sets',
    'repetitions exact',
    'hold within 0.3 s',
    'lowering within 0.15 s',
    'travel of a repetition within 2 cm or 7 %',
  ];
  return table(head, rows);
}

function goalLines(figures: readonly SetFigures[]): string[] {
  const lines: (readonly [boolean, string])[] = [];
  for (const { movement, yawBandsDeg, mostDeg } of GOALS.elbowDeg) {
    for (const yaw of yawBandsDeg) {
      const sets = figures.filter((set) => set.movement === movement && set.yawBandDeg === yaw);
      const of = agreement(sets.map(({ readings }) => readings.elbow));
      if (of === null) continue;
      const kept = percent(of.sets / sets.length);
      lines.push([
        of.meanAbsolute.value <= mostDeg,
        `${movement}, ${String(yaw)}°: elbow at most ${String(mostDeg)} deg: ${one(of.meanAbsolute.value)} (${kept} of sets measured)`,
      ]);
      lines.push([
        Math.abs(of.bias.value) < GOALS.mostBiasDeg,
        `${movement}, ${String(yaw)}°: bias under ${String(GOALS.mostBiasDeg)} deg: ${one(of.bias.value)}`,
      ]);
      const [low, high] = GOALS.coverage;
      lines.push([
        of.coverage.value >= low && of.coverage.value <= high,
        `${movement}, ${String(yaw)}°: ${percent(low)} to ${percent(high)} inside the interval: ${percent(of.coverage.value)}`,
      ]);
      const width = GOALS.halfWidthAt15Deg[movement];
      if (yaw === 15)
        lines.push([
          of.halfWidth <= width,
          `${movement}, 15°: median interval at most ± ${one(width)} deg: ± ${one(of.halfWidth)}`,
        ]);
    }
  }
  for (const goal of [GOALS.repetitions, GOALS.holdTime, GOALS.lowering, GOALS.travel])
    lines.push(shareLine(figures, goal));
  for (const [quantity, mostDeg] of GOALS.anglesTo30) {
    const of = agreement(
      figures.filter(({ yawBandDeg }) => yawBandDeg <= 30).map(({ readings }) => readings[quantity]),
    );
    if (of !== null)
      lines.push([
        of.meanAbsolute.value <= mostDeg,
        `${quantity} within ${String(mostDeg)} deg to 30°, mean absolute error: ${withInterval(of.meanAbsolute)}`,
      ]);
  }
  const rule = rowRule(
    figures.flatMap(({ rows }) => rows),
    ...GOALS.greyZone,
  );
  for (const [words, share] of [
    ['sensitivity', rule.sensitivity],
    ['specificity', rule.specificity],
  ] as const)
    lines.push([
      share >= GOALS.rowShare,
      `curl or row, ${words} outside ${percent(rule.greyFrom)} to ${percent(rule.greyTo)} of the work: ${percent(share)} (${String(rule.above)} above, ${String(rule.below)} below, ${String(rule.unsaid)} not judged)`,
    ]);
  lines.push(...forearmGoals(figures));
  return lines.map(([isMet, text]) => `- ${isMet ? 'met' : '**missed**'}: ${text}`);
}

function shareLine(figures: readonly SetFigures[], goal: ShareGoal): readonly [boolean, string] {
  const sets = figures.filter((set) => goal.items([set]).length > 0);
  const of = bootstrappedMean(sets.map((set) => goal.items([set]).map((isWithin) => (isWithin ? 1 : 0))));
  const interval = `${percent(of.low)} to ${percent(of.high)}`;
  return [
    of.value >= goal.least,
    `${goal.text}, at least ${percent(goal.least)}: ${percent(of.value)} (${interval})`,
  ];
}
