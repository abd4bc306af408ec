import { FOREARM_CATEGORIES, forearmCategory } from '../forearm/category.ts';
import { FOREARM_RIGHT_SHARE } from '../forearm/section.ts';
import { percent, table } from './markdown.ts';
import type { ForearmSaying, SetFigures } from './set-figures.ts';

/** Of the pictures in which the hand is in view at most so many may be refused. */
const MOST_REFUSED = 0.5;

const isSaid = ({ saidDeg }: ForearmSaying): boolean => saidDeg !== null;

const isRight = ({ truthDeg, saidDeg }: ForearmSaying): boolean =>
  saidDeg !== null && forearmCategory(saidDeg) === forearmCategory(truthDeg);

/** What the chain said of the forearm in pictures in which the hand is in view, against what is true. */
export function forearmTable(figures: readonly SetFigures[]): string[] {
  const sayings = figures.flatMap(({ forearm }) => forearm);
  const rows = FOREARM_CATEGORIES.map((truth) => {
    const own = sayings.filter(({ truthDeg }) => forearmCategory(truthDeg) === truth);
    const saidAs = FOREARM_CATEGORIES.map(
      (category) =>
        own.filter(({ saidDeg }) => saidDeg !== null && forearmCategory(saidDeg) === category).length,
    );
    return [truth, ...saidAs, own.filter((saying) => !isSaid(saying)).length].map(String);
  });
  return table(['truth', ...FOREARM_CATEGORIES.map((category) => `said ${category}`), 'not measured'], rows);
}

/** The goals of the forearm's category, each with whether it is met. */
export function forearmGoals(figures: readonly SetFigures[]): (readonly [boolean, string])[] {
  const sayings = figures.flatMap(({ forearm }) => forearm);
  const said = sayings.filter(isSaid);
  const right = said.filter(isRight).length / said.length;
  const refused = 1 - said.length / sayings.length;
  return [
    [
      right >= FOREARM_RIGHT_SHARE,
      `forearm category right in at least ${percent(FOREARM_RIGHT_SHARE)} of what is not refused: ${percent(right)}`,
    ],
    [
      refused <= MOST_REFUSED,
      `forearm refused in at most ${percent(MOST_REFUSED)} of pictures with the hand in view: ${percent(refused)}`,
    ],
  ];
}
