import type { Span } from '../exercises/judgement.ts';
import type { KinematicFrame } from '../kinematics/kinematic-frame.ts';
import { isMeasured } from '../kinematics/measured.ts';
import { quantile } from '../math/statistics.ts';
import { FORCE_LINES, handsForce } from './body-curl.ts';
import { bodyOfPicture, withCentreAt } from './hanging-body.ts';
import { scaled, type LoadFigure } from './load-figure.ts';
import { CENTRE_OVER_SHOULDER_HEIGHT, FREE_FALL } from './load-limits.ts';

/** Share of body weight at the hands at one elbow angle of the measured repetitions. */
export interface MeasuredHandShare {
  readonly flexionDeg: number;
  /** All hands together. */
  readonly handShare: LoadFigure;
}

/** What a plan knows of who hangs from the bar, and by how many hands. */
export interface HangingPerson {
  readonly bodyMassKg: number;
  readonly hands: 1 | 2;
}

/** Angles that are put together, degrees. */
const BIN_DEG = 20;

/**
 * Share of body weight at the hands over the range of a measured body-moving curl, from where the pictures put feet, hands and
 * shoulders: the median over the pictures of each 20 deg of flexion. The value is that of the smallest force; least and most
 * span the assumptions that can hold the body, the doubt of the centre of mass, and the middle half of the pictures.
 * @param frames - of a set
 * @param repetitions - the spans of time whose pictures count, seconds on the frames' clock
 * @returns nothing for angles at which feet or hands were not seen, rising angles
 */
export function measuredHandShares(
  frames: readonly KinematicFrame[],
  repetitions: readonly Span[],
): MeasuredHandShare[] {
  const bins = new Map<
    number,
    { readonly values: number[]; readonly lows: number[]; readonly highs: number[] }
  >();
  const isCounted = (seconds: number): boolean =>
    repetitions.some(({ startSeconds, endSeconds }) => seconds >= startSeconds && seconds <= endSeconds);
  for (const { timeSeconds, elbowFlexionDeg, body } of frames) {
    if (!isCounted(timeSeconds)) continue;
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
      const handShare: LoadFigure = {
        value: at(0.5, values),
        least: at(0.25, lows),
        most: at(0.75, highs),
        of: 'hand-share',
      };
      return { flexionDeg, handShare };
    });
}

/** Force at each hand, newtons, of a share of body weight that the hands hold together. */
export function forceAtEachHand(handShare: LoadFigure, { bodyMassKg, hands }: HangingPerson): LoadFigure {
  return scaled(handShare, (bodyMassKg * FREE_FALL) / hands, 'hand-force');
}

/** The angles at which the hands hold least and most of the body weight; null without any angle. */
export function leastAndMost(
  shares: readonly MeasuredHandShare[],
): { readonly least: MeasuredHandShare; readonly most: MeasuredHandShare } | null {
  const [first] = shares;
  if (first === undefined) return null;
  const pick = (isMore: (one: number, other: number) => boolean): MeasuredHandShare =>
    shares.reduce(
      (kept, share) => (isMore(share.handShare.value, kept.handShare.value) ? share : kept),
      first,
    );
  return { least: pick((one, other) => one < other), most: pick((one, other) => one > other) };
}
