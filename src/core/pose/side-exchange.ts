import { GATE_LIMITS } from './gate-limits.ts';
import type { SidedLandmark } from './landmark.ts';
import { distance, exchangeSides, SIDED_LANDMARKS, trunkOf, type SidedPose } from './sided-pose.ts';

/** Which landmarks of a picture carry the other side's label, as far as continuity tells. */
export interface Exchange {
  readonly body: boolean;
  readonly arm: boolean;
  readonly hand: boolean;
}

/** No label exchanged. */
export const NO_EXCHANGE: Exchange = { body: false, arm: false, hand: false };

const HAND = ['wrist', 'pinky', 'index', 'thumb'] as const;

/** Landmarks that change together, from the whole body down to a hand, and those by which it is judged. */
const GROUPS: readonly {
  key: keyof Exchange;
  moved: readonly SidedLandmark[];
  judged: readonly SidedLandmark[];
}[] = [
  { key: 'body', moved: SIDED_LANDMARKS, judged: ['shoulder', 'elbow', 'wrist', 'hip', 'knee'] },
  { key: 'arm', moved: ['elbow', ...HAND], judged: ['elbow', 'wrist'] },
  { key: 'hand', moved: HAND, judged: ['wrist'] },
];

/** Mean distance of both sides' landmarks from where they were, pixels. */
function meanMove(pose: SidedPose, before: SidedPose, landmarks: readonly SidedLandmark[]): number {
  let sum = 0;
  for (const landmark of landmarks) {
    sum += distance(pose.treated[landmark], before.treated[landmark]);
    sum += distance(pose.other[landmark], before.other[landmark]);
  }
  return sum / (2 * landmarks.length);
}

/** The picture's landmarks with the labels put right. */
export interface SettledSides {
  readonly pose: SidedPose;
  readonly exchange: Exchange;
  /** True when the labels fit neither way well: which arm is which is not known in this picture. */
  readonly undecided: boolean;
}

/**
 * Puts exchanged labels right by each side's continuity: where keeping the labels makes the sides jump and exchanging
 * them does not, they were exchanged. What was found holds until continuity says otherwise, so that sides which come
 * close and part again keep their names. Without an earlier picture the labels stand as they are.
 */
export function settleSides(
  pose: SidedPose,
  before: SidedPose | null,
  held: Exchange,
  stepSeconds: number,
): SettledSides {
  if (before === null) return { pose, exchange: NO_EXCHANGE, undecided: false };
  const trunk = Math.max(1, trunkOf(before).length);
  const allowed = trunk * (GATE_LIMITS.exchangeFloor + GATE_LIMITS.exchangeSpeed * stepSeconds);
  const exchange = { ...held };
  let settled = pose;
  let undecided = false;
  for (const { key, moved, judged } of GROUPS) {
    const kept = held[key] ? exchangeSides(settled, moved) : settled;
    const keptMove = meanMove(kept, before, judged);
    settled = kept;
    if (keptMove <= allowed) continue;
    const turned = exchangeSides(kept, moved);
    const turnedMove = meanMove(turned, before, judged);
    if (turnedMove < GATE_LIMITS.exchangeFactor * keptMove) {
      settled = turned;
      exchange[key] = !held[key];
    } else if (turnedMove < GATE_LIMITS.undecidedFactor * keptMove) {
      undecided = true;
    }
  }
  return { pose: settled, exchange, undecided };
}
