import { solve } from '../../../src/core/math/linear-system.ts';
import type { HandLines, HandMoment } from './hand-moments.ts';

/** Rotations that are tried, degrees: what forearms reach, and a little more. */
const FURTHEST_DEG = 90;
const STEP_DEG = 1;

const numbersOf = ({ knuckles, thumb }: HandLines): number[] => [knuckles.x, knuckles.y, thumb.x, thumb.y];

const product = (a: readonly number[], b: readonly number[]): number =>
  a.reduce((sum, value, i) => sum + value * (b[i] ?? 0), 0);

/**
 * The forearm rotation, degrees, at which the hand's two lines look most as they were seen: least squares with a free
 * size of the hand. Given the true directions of forearm and elbow and the hand's true shape, it is the most that
 * geometry can make of the three points of a hand.
 */
export function rotationByGeometry(moment: HandMoment, seen: HandLines): number {
  const wanted = numbersOf(seen);
  let best = { rotationDeg: 0, likeness: -Infinity };
  for (let rotationDeg = -FURTHEST_DEG; rotationDeg <= FURTHEST_DEG; rotationDeg += STEP_DEG) {
    const tried = numbersOf(moment.turned(rotationDeg));
    const likeness = product(wanted, tried) / Math.sqrt(product(tried, tried));
    if (likeness > best.likeness) best = { rotationDeg, likeness };
  }
  return best.rotationDeg;
}

/**
 * Cosine and sine of the rotation, each times the size of the hand as it was seen, trunk lengths: least squares of the
 * hand's two lines over what turns with each and what does not turn. A network that follows the hand by half gives both
 * by half.
 */
export function turnShares(moment: HandMoment, seen: HandLines): readonly [number, number] {
  const [level, opposite, up] = [0, 180, 90].map((deg) => numbersOf(moment.turned(deg)));
  if (!level || !opposite || !up) return [0, 0];
  const still = level.map((value, i) => (value + (opposite[i] ?? 0)) / 2);
  const columns = [
    level.map((value, i) => value - (still[i] ?? 0)),
    up.map((value, i) => value - (still[i] ?? 0)),
    still,
  ];
  const wanted = numbersOf(seen).map((value) => value / moment.trunkPx);
  const [cosine = 0, sine = 0] = solve(
    columns.map((a) => columns.map((b) => product(a, b))),
    columns.map((a) => product(a, wanted)),
  );
  return [cosine, sine];
}
