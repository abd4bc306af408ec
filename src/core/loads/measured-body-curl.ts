import type { KinematicFrame } from '../kinematics/kinematic-frame.ts';
import { isMeasured } from '../kinematics/measured.ts';
import { quantile } from '../math/statistics.ts';
import { bodyOfPicture, FORCE_LINES, handsForce, withCentreAt } from './body-curl.ts';
import type { LoadFigure } from './load-figure.ts';
import { CENTRE_OVER_SHOULDER_HEIGHT } from './load-limits.ts';

/** Share of body weight at the hands at one elbow angle of a measured repetition. */
export interface MeasuredHandShare {
  readonly flexionDeg: number;
  /** All hands together. */
  readonly handShare: LoadFigure;
  /** Of one arm. */
  readonly perArm: LoadFigure;
}

/** Angles that are put together, degrees. */
const BIN_DEG = 20;

/**
 * Share of body weight at the hands over the range of a measured body-moving curl, from where the pictures put feet, hands and
 * shoulders: the median over the pictures of each 20 deg of flexion. The value is that of the smallest force; least and most
 * span the assumptions that can hold the body, the doubt of the centre of mass, and the middle half of the pictures.
 * @param frames - of one repetition or several
 * @returns nothing for angles at which feet or hands were not seen, rising angles
 */
export function measuredHandShares(frames: readonly KinematicFrame[], hands: 1 | 2): MeasuredHandShare[] {
  const bins = new Map<
    number,
    { readonly values: number[]; readonly lows: number[]; readonly highs: number[] }
  >();
  for (const { elbowFlexionDeg, body } of frames) {
    const placed = bodyOfPicture(body);
    if (placed === null || !isMeasured(elbowFlexionDeg)) continue;
    const { value: centre, halfWidth } = CENTRE_OVER_SHOULDER_HEIGHT;
    const shares = [centre - halfWidth, centre, centre + halfWidth].map((share) =>
      FORCE_LINES.flatMap((line) => handsForce(withCentreAt(placed, share), line)?.share ?? []),
    );
    const [first] = shares[1] ?? [];
    if (first === undefined) continue;
    const bin = Math.round(elbowFlexionDeg.value / BIN_DEG) * BIN_DEG;
    const kept = bins.get(bin) ?? { values: [], lows: [], highs: [] };
    kept.values.push(first);
    kept.lows.push(Math.min(...shares.flat()));
    kept.highs.push(Math.max(...shares.flat()));
    bins.set(bin, kept);
  }
  return [...bins]
    .sort(([a], [b]) => a - b)
    .map(([flexionDeg, { values, lows, highs }]) => {
      const at = (q: number, of: readonly number[]): number => quantile(of, q) ?? 0;
      const value = at(0.5, values);
      const handShare: LoadFigure = {
        value,
        least: at(0.25, lows),
        most: at(0.75, highs),
        of: 'hand-share',
      };
      const { least, most, of } = handShare;
      return {
        flexionDeg,
        handShare,
        perArm: { value: value / hands, least: least / hands, most: most / hands, of },
      };
    });
}
