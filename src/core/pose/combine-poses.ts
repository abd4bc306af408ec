import { exchangeLabels } from './exchange-labels.ts';
import { LANDMARK_NAMES, sidedIndex, type Side, type SidedLandmark } from './landmark.ts';
import type { ImageLandmark, Pose, WorldLandmark } from './pose-frame.ts';

/** The looks at one picture: of the middle network, of the same network at the mirrored picture, of the largest. */
export const LOOKS = ['full', 'fullMirrored', 'heavy'] as const;
export type Look = (typeof LOOKS)[number];

/** What each look found in one picture, mirrored back where it was mirrored; null where it found nobody. */
export type FoundByLook = Readonly<Record<Look, Pose | null>>;

/** One pose made of several, and the looks that followed something else: they should search afresh. */
export interface CombinedPose {
  readonly pose: Pose | null;
  readonly astray: readonly Look[];
}

/**
 * Chosen on the drawn pictures of the developing set (195 sets, 2730 pictures; no published source). Lengths in trunk
 * lengths (middle of the hips to middle of the shoulders in the picture).
 */
const COMBINING = {
  /**
   * How much each look counts. The errors of full in a picture and in its mirror go together (correlation 0.7 at the
   * near elbow), those of heavy less with either (0.5 to 0.6): the covariance alone would give heavy 0.5 to 0.7.
   * Of 0.5 to 1 for heavy, 0.7 to 0.8 left the least error of the angle within and between sets.
   */
  weights: { full: 0.15, fullMirrored: 0.15, heavy: 0.7 } satisfies Record<Look, number>,
  /** Looks so far apart count as contradicting: twice that far from both others, a look counts a 25th. */
  apart: 0.25,
  /** Trunks farther apart than this are of two bodies, or one of them is followed no more. */
  otherBody: 0.5,
  /**
   * A look's left and right are exchanged where the looks are farther apart than the first, and exchanging leaves less
   * than the second share of it. Arms that cover each other in the picture keep their names.
   */
  labelsApart: 0.1,
  labelsLeftShare: 0.5,
} as const;

/** What one look says, and how much it counts. */
interface Vote {
  readonly look: Look;
  readonly pose: Pose;
  readonly weight: number;
}

/**
 * One pose of the three looks at a picture: image and world landmarks and visibility are weighted means. The two that
 * agree win: a look that follows another body is left out, one whose left and right are exchanged is turned round, and
 * a limb that one look puts elsewhere hardly counts. Where there are two only and they contradict, heavy is believed:
 * it exchanges sides more rarely. Nobody is found where two of three find nobody.
 */
export function combinePoses(found: FoundByLook): CombinedPose {
  const votes = LOOKS.flatMap((look): Vote[] => {
    const pose = found[look];
    return pose === null ? [] : [{ look, pose, weight: COMBINING.weights[look] }];
  });
  if (2 * votes.length < LOOKS.length) return { pose: null, astray: votes.map(({ look }) => look) };
  const trunkPx = Math.max(1, ...votes.map(({ pose }) => trunkLength(pose)));
  const ofOneBody = sameBody(votes, trunkPx);
  const astray = votes.filter((vote) => !ofOneBody.includes(vote)).map(({ look }) => look);
  return { pose: mergedPose(withAgreedLabels(ofOneBody, trunkPx), trunkPx), astray };
}

/** The looks that see the body which most of them see; of equally many, those with the weightiest. */
function sameBody(votes: readonly Vote[], trunkPx: number): readonly Vote[] {
  const byWeight = votes.toSorted((a, b) => b.weight - a.weight);
  const groups = byWeight.map((one) =>
    votes.filter((other) => trunksApart(one.pose, other.pose) <= COMBINING.otherBody * trunkPx),
  );
  return groups.reduce((largest, group) => (group.length > largest.length ? group : largest));
}

const HAND = ['wrist', 'pinky', 'index', 'thumb'] as const satisfies readonly SidedLandmark[];
const ARM = ['elbow', ...HAND] as const satisfies readonly SidedLandmark[];

/** Landmarks that are exchanged together (null: all there are), and those by which that is judged. */
const GROUPS: readonly {
  readonly moved: readonly SidedLandmark[] | null;
  readonly judged: readonly SidedLandmark[];
}[] = [
  { moved: null, judged: ['shoulder', 'elbow', 'wrist', 'hip', 'knee'] },
  { moved: ARM, judged: ['elbow', 'wrist'] },
  { moved: HAND, judged: ['wrist'] },
];

/** The votes with the labels of one look turned round where it then agrees with the others. */
function withAgreedLabels(votes: readonly Vote[], trunkPx: number): readonly Vote[] {
  let settled = votes;
  for (const { moved, judged } of GROUPS) {
    const kept = meanApart(settled, judged);
    if (kept <= COMBINING.labelsApart * trunkPx) continue;
    const before = settled;
    const turned = before
      .toSorted((a, b) => a.weight - b.weight)
      .map(({ look }) => before.map((vote) => (vote.look === look ? turnedRound(vote, moved) : vote)))
      .map((tried) => ({ tried, apart: meanApart(tried, judged) }));
    // Turning either of two looks fits alike: the first that is tried is the one that counts least.
    const best = turned.reduce((least, each) => (each.apart < least.apart ? each : least));
    if (best.apart < COMBINING.labelsLeftShare * kept) settled = best.tried;
  }
  return settled;
}

function turnedRound(vote: Vote, moved: readonly SidedLandmark[] | null): Vote {
  return { ...vote, pose: exchangeLabels(vote.pose, moved ?? undefined) };
}

/** Mean distance of the looks from each other in some landmarks of both sides, pixels; 0 for a single look. */
function meanApart(votes: readonly Vote[], landmarks: readonly SidedLandmark[]): number {
  const indices = landmarks.flatMap((landmark) => [
    sidedIndex('left', landmark),
    sidedIndex('right', landmark),
  ]);
  const distances = votes.flatMap((one, i) =>
    votes.slice(i + 1).flatMap((other) => indices.map((index) => apart(one.pose, other.pose, [index]))),
  );
  return distances.reduce((sum, px) => sum + px, 0) / Math.max(1, distances.length);
}

/** An arm is one limb, of one look: half of it from here and half from there would be nobody's. */
const JUDGED_BY: readonly (readonly number[])[] = LANDMARK_NAMES.map((name, index) => {
  const side: Side = name.startsWith('left_') ? 'left' : 'right';
  const isOfArm = ARM.some((landmark) => name === `${side}_${landmark}`);
  return isOfArm ? [sidedIndex(side, 'elbow'), sidedIndex(side, 'wrist')] : [index];
});

function mergedPose(votes: readonly Vote[], trunkPx: number): Pose {
  const image: ImageLandmark[] = [];
  const world: WorldLandmark[] = [];
  JUDGED_BY.forEach((judgedBy, index) => {
    const weights = votes.map((vote) => vote.weight * agreement(vote, votes, judgedBy, trunkPx));
    const sum = weights.reduce((total, weight) => total + weight, 0);
    const mean = (valueOf: (pose: Pose) => number | undefined): number =>
      votes.reduce((total, { pose }, i) => total + (weights[i] ?? 0) * (valueOf(pose) ?? 0), 0) / sum;
    image.push({
      x: mean((pose) => pose.image[index]?.x),
      y: mean((pose) => pose.image[index]?.y),
      visibility: mean((pose) => pose.image[index]?.visibility),
    });
    world.push({
      x: mean((pose) => pose.world[index]?.x),
      y: mean((pose) => pose.world[index]?.y),
      z: mean((pose) => pose.world[index]?.z),
    });
  });
  return { image, world };
}

/**
 * 1 where a look is where another is, falling smoothly towards 0 as it stands alone, so that nothing jumps from picture
 * to picture. Of two looks neither can be outvoted.
 */
function agreement(
  vote: Vote,
  votes: readonly Vote[],
  landmarks: readonly number[],
  trunkPx: number,
): number {
  if (votes.length < 3) return 1;
  const others = votes.filter((other) => other !== vote);
  const nearestPx = Math.min(...others.map((other) => apart(vote.pose, other.pose, landmarks)));
  return (1 + (nearestPx / (COMBINING.apart * trunkPx)) ** 2) ** -2;
}

/** Largest distance of two poses in some landmarks, pixels. */
function apart(one: Pose, other: Pose, landmarks: readonly number[]): number {
  return Math.max(
    ...landmarks.map((index) => {
      const [a, b] = [one.image[index], other.image[index]];
      return a === undefined || b === undefined ? 0 : Math.hypot(a.x - b.x, a.y - b.y);
    }),
  );
}

interface Place {
  readonly x: number;
  readonly y: number;
}

/** The middle of both sides: the same whichever label is whose. */
function middleOf({ image }: Pose, landmark: 'shoulder' | 'hip'): Place {
  const [left, right] = [image[sidedIndex('left', landmark)], image[sidedIndex('right', landmark)]];
  return { x: ((left?.x ?? 0) + (right?.x ?? 0)) / 2, y: ((left?.y ?? 0) + (right?.y ?? 0)) / 2 };
}

function distance(a: Place, b: Place): number {
  return Math.hypot(a.x - b.x, a.y - b.y);
}

function trunkLength(pose: Pose): number {
  return distance(middleOf(pose, 'hip'), middleOf(pose, 'shoulder'));
}

/** The farther of the distances of the shoulders' and the hips' middles, pixels. */
function trunksApart(one: Pose, other: Pose): number {
  const between = (landmark: 'shoulder' | 'hip'): number =>
    distance(middleOf(one, landmark), middleOf(other, landmark));
  return Math.max(between('shoulder'), between('hip'));
}
