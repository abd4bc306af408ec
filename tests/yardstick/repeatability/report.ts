import { CONDITIONS, REPEATS, type Condition } from './conditions.ts';
import type { KeptValues } from './kept-values.ts';
import { QUANTITIES, type QuantityKey } from './quantities.ts';
import { COMPARED, repeatabilityRows, type Repeatable, type Row } from './rows.ts';

const MOVEMENT_WORDS = { hold: 'Hold', standing: 'Standing curl', 'body-curl': 'Body-moving curl' } as const;

/** The report as Markdown: what was compared, and tables for the figure of a set and of one repetition. */
export function repeatabilityReport(kept: KeptValues, command: string): string {
  const rows = repeatabilityRows(
    kept,
    CONDITIONS.map(({ key }) => key),
  );
  const movements = new Set(kept.targets.map(({ id }) => id)).size;
  return [
    '# How far a figure comes out the same again',
    '',
    `Made by \`${command}\`. ${String(movements)} movements of rendered people of the ${kept.set} set, each measured ${String(REPEATS)} times under each condition; landmarks of the \`${kept.model}\` network, ${String(kept.rateHz)} pictures a second, the chain of the record. They say nothing about real people, whose movement itself is never the same twice.`,
    '',
    'A change between two sets that is smaller than the **least detectable change** may be chance (95 %). It is 1.96 times the square root of 2 times the standard error of measurement (Weir 2005), which is the standard deviation of the repeats of one movement, lasting differences between them included. The intraclass correlation is form (1,1) of Shrout and Fleiss (1979): it compares the scatter within a movement with that between the movements, so it is low where the movements hardly differ. Brackets are 95 % bootstrap intervals over movements. For comparison: with a goniometer in one hand a change of the elbow of 6 degrees is more than chance, 10 between two hands (Armstrong and others 1998).',
    '',
    '## What was different from one measurement to the next',
    '',
    '- **Noise**: the same person, movement, room and camera, and the same errors of the network for each posture; the noise from picture to picture is drawn anew.',
    '- **Camera put up anew**: the same person and movement before another camera: yaw up to 20 or 45 deg either way, height, distance, roll, aim and field of view drawn anew. What the network misplaces for a whole set is taken from another set of the same movement seen from about the same yaw, drawn by chance (over elbow flexion, in trunk lengths, mirrored where the other side was treated), and noise is added. That is: all of the lasting error is assumed to be another one with every camera. The row "lasting errors as they were" assumes the opposite.',
    '- **Another body**: another stature, build and proportions, moving by the same script with the same sway and tremor, camera at the same yaw, lasting errors drawn as above. What truly differs between the bodies is taken off.',
    '',
    '## The figure of a set',
    '',
    'Of a hold the mean angle of all time in the range; else the mean over the repetitions of the set.',
    '',
    ...table(rows, ({ ofSet }) => ofSet),
    '',
    '## The figure of one repetition',
    '',
    ...table(
      rows.filter(({ quantity }) => quantity !== 'holdElbowDeg'),
      ({ ofRepetition }) => ofRepetition,
    ),
    '',
  ].join('\n');
}

function table(rows: readonly Row[], of: (row: Row) => Repeatable | null): string[] {
  const head = [
    'movement',
    'figure',
    'what was different',
    'measured',
    'mean',
    'SD between movements',
    'standard error of measurement',
    'ICC(1,1)',
    'least detectable change',
  ];
  const line = (cells: readonly string[]): string => `| ${cells.join(' | ')} |`;
  return [
    line(head),
    line(head.map(() => '---')),
    ...rows.map((row) => line([...names(row), ...numbers(of(row), row.quantity)])),
  ];
}

function names({ movement, quantity, condition, measured, tried }: Row): string[] {
  const { words, unit } = quantityOf(quantity);
  const name = unit === '' ? words : `${words}, ${unit}`;
  return [MOVEMENT_WORDS[movement], name, wordsOf(condition), `${String(measured)} of ${String(tried)}`];
}

function numbers(of: Repeatable | null, quantity: QuantityKey): string[] {
  if (of === null) return ['', '', '', '', ''];
  const { digits } = quantityOf(quantity);
  const [low, high] = of.semInterval;
  const told = (value: number): string => value.toFixed(digits);
  return [
    told(of.mean),
    told(of.betweenSd),
    `${told(of.sem)} (${told(low)} to ${told(high)})`,
    of.icc.toFixed(2),
    `**${told(of.mdc95)}**`,
  ];
}

function quantityOf(key: QuantityKey) {
  const found = QUANTITIES.find((quantity) => quantity.key === key);
  if (found === undefined) throw new Error(`quantityOf: ${key} is unknown.`);
  return found;
}

function wordsOf(key: Condition): string {
  return CONDITIONS.find((condition) => condition.key === key)?.words ?? key;
}

/** Which condition stands for which way of putting the camera up, in the table of the app. */
const OF_APP = [
  ['sameSetUp', 'noise'],
  ['cameraTo20Deg', 'camera-20'],
  ['cameraTo45Deg', 'camera-45'],
] as const;

/**
 * The table of least detectable changes as the app's source: one row for each figure of a set, rounded up to the last
 * digit that the app tells. Not formatted.
 * @throws Error where a figure could not be had.
 */
export function detectableChangeSource(kept: KeptValues, command: string): string {
  const rows = repeatabilityRows(
    kept,
    OF_APP.map(([, condition]) => condition),
  );
  const tables = COMPARED.map(([movement, quantities]) => {
    const lines = quantities.map((quantity) => {
      const { digits } = quantityOf(quantity);
      let atLeast = 0;
      const entries = OF_APP.map(([name, condition]) => {
        const row = rows.find(
          (one) => one.movement === movement && one.quantity === quantity && one.condition === condition,
        );
        if (!row?.ofSet) throw new Error(`detectableChangeSource: ${movement} ${quantity} was not measured.`);
        const steps = 10 ** digits;
        // Each holds the one before in it; that it comes out smaller is the chance of few movements.
        atLeast = Math.max(atLeast, Math.ceil(row.ofSet.mdc95 * steps) / steps);
        return `${name}: ${String(atLeast)}`;
      });
      return `${quantity}: { ${entries.join(', ')} },`;
    });
    return `'${movement}': { ${lines.join('\n')} },`;
  });
  return `/**
 * A change from one set to another that is smaller may be chance (95 %): of the mean angle of a hold, and of means over a
 * set's repetitions; in the unit of the name, shares from 0 to 1. cameraTo20Deg: camera put up anew, both times turned at
 * most so far from square; sameSetUp: nothing moved between the sets. Each is no smaller than the one before. Found on rendered people, and without what the
 * person does differently from one day to the next, which comes on top.
 *
 * Written by \`${command} --write\`; how, and what is assumed, stands in docs/repeatability.md.
 */
export const DETECTABLE_CHANGE = {
${tables.join('\n')}
} as const;
`;
}
