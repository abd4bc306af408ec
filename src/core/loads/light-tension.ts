import { armLengths, type LoadPerson } from './arm-geometry.ts';
import { bandGeometry, type BandRun } from './band-pull.ts';
import { FULL_ROTATION_DEG } from './load-limits.ts';

/**
 * The light-tension test of a band, by calculation: which way a relaxed forearm is turned. The forearm's rotation is not
 * measured, so the person looks, and the eye decides.
 */

/** Half way between thumb up and palm down: a forearm turned further counts as palm down. */
const PALM_DOWN_DEG = -45;
/** Steps in which the forearm is let turn, degrees. */
const STEP_DEG = 5;
/** A lever shorter than this turns no relaxed forearm against its own stiffness, metres. Common practice, no source. */
const LEAST_LEVER_M = 0.004;
/** By how much an anchor is moved to look what that does, metres. */
const MOVE_M = 0.2;

/**
 * Where a relaxed forearm comes to rest under a light pull, degrees from thumb up, supination positive: from thumb up it turns
 * the way the band's line drags it, at most to the end of its range.
 */
export function relaxedRotationDeg(run: BandRun, person: LoadPerson, flexionDeg: number): number {
  const { elbowToGripM } = armLengths(person);
  const leverAt = (rotationDeg: number): number =>
    bandGeometry(run, elbowToGripM, flexionDeg, rotationDeg).pronationLeverM;
  let rotationDeg = 0;
  const way = Math.sign(leverAt(0));
  while (Math.abs(rotationDeg) < FULL_ROTATION_DEG && way * leverAt(rotationDeg) >= LEAST_LEVER_M)
    rotationDeg -= way * STEP_DEG;
  return rotationDeg;
}

/** Whether a light pull turns the relaxed forearm palm down, by calculation. */
export function turnsPalmDown(run: BandRun, person: LoadPerson, flexionDeg: number): boolean {
  return relaxedRotationDeg(run, person, flexionDeg) <= PALM_DOWN_DEG;
}

/** A way to move the anchor, as seen from the person. */
export type AnchorMove = 'outward' | 'inward' | 'forward' | 'back' | 'up' | 'down';

const MOVES: Readonly<Record<AnchorMove, readonly [keyof BandRun['anchorM'], 1 | -1]>> = {
  outward: ['outward', 1],
  inward: ['outward', -1],
  forward: ['forward', 1],
  back: ['forward', -1],
  up: ['up', 1],
  down: ['up', -1],
};

/**
 * Which way to move the anchor so that the band drags the forearm most towards palm down at the test's angle, by calculation;
 * null where no way does so.
 */
export function anchorMove(run: BandRun, person: LoadPerson, flexionDeg: number): AnchorMove | null {
  const { elbowToGripM } = armLengths(person);
  const lever = (of: BandRun): number => bandGeometry(of, elbowToGripM, flexionDeg, 0).pronationLeverM;
  const now = lever(run);
  let best: { readonly move: AnchorMove; readonly gain: number } | null = null;
  for (const move of Object.keys(MOVES).filter(isMove)) {
    const [axis, sign] = MOVES[move];
    const anchorM = { ...run.anchorM, [axis]: run.anchorM[axis] + sign * MOVE_M };
    const gain = lever({ ...run, anchorM }) - now;
    if (gain > 0.001 && gain > (best?.gain ?? 0)) best = { move, gain };
  }
  return best?.move ?? null;
}

function isMove(name: string): name is AnchorMove {
  return name in MOVES;
}
