import { drawNormal, type SeededRandom } from './seeded-random.ts';

export type Side = 'left' | 'right';
export const SIDES = ['left', 'right'] as const satisfies readonly Side[];
export const otherSide = (side: Side): Side => (side === 'left' ? 'right' : 'left');
/** Direction of a side along z (to the figure's right). */
export const sideSign = (side: Side): 1 | -1 => (side === 'right' ? 1 : -1);

/**
 * Segment lengths as fractions of stature: R. Drillis, R. Contini, Body Segment Parameters (1966), as drawn in
 * D. A. Winter, Biomechanics and Motor Control of Human Movement (2009), figure 4.1.
 */
export const SEGMENT_FRACTIONS = {
  upperArm: 0.186,
  forearm: 0.146,
  hand: 0.108,
  trunk: 0.288,
  thigh: 0.245,
  shank: 0.246,
  ankleHeight: 0.039,
  foot: 0.152,
} as const;

/**
 * Distance of a joint's centre from the middle plane, as a fraction of stature. Narrower than half the published
 * breadths, which are measured over the skin: with those as joint centres the figure looks padded.
 */
const HALF_WIDTH_FRACTIONS = { shoulder: 0.112, hip: 0.06 } as const;

/** Where the middle of a closed fist lies beyond the wrist, as a fraction of stature: half way along the hand. */
const GRIP_FRACTION = 0.05;

/** Segment lengths of one body in metres. */
export interface BodyLengths {
  readonly upperArm: number;
  readonly forearm: number;
  readonly hand: number;
  readonly trunk: number;
  readonly thigh: number;
  readonly shank: number;
  readonly ankleHeight: number;
  readonly foot: number;
  readonly shoulderHalfWidth: number;
  readonly hipHalfWidth: number;
  /** From the wrist to the middle of the grip. */
  readonly grip: number;
}

interface BodyLooks {
  /** Girth against an average build: 0.85 slight to 1.25 heavy. */
  readonly girth: number;
  readonly skin: number;
  readonly hair: number;
  readonly hairStyle: 'short' | 'bun' | 'shaved';
  readonly shirt: number;
  readonly shorts: number;
  readonly shoes: number;
  /** Where the sleeve ends: share of the upper arm, or beyond 1 into the forearm for a long sleeve. */
  readonly sleeve: number;
  /** Where the shorts end: share of the thigh, or beyond 1 into the shank for long trousers. */
  readonly legwear: number;
}

export interface Body {
  readonly statureM: number;
  readonly massKg: number;
  readonly lengths: BodyLengths;
  readonly looks: BodyLooks;
}

/** What a scenario says of a person; the rest (proportions, girth) follows from the seed. */
export interface BodyOutline {
  readonly statureM: number;
  /** Body mass over stature squared, kg/m2; decides the girth. */
  readonly bodyMassIndex: number;
  /**
   * Standard deviation of each segment about its published fraction, as a fraction of itself, cut off at 2.5 of them;
   * left out, segments differ evenly by up to 3 %.
   */
  readonly segmentSpreadSd?: number;
  readonly looks: Omit<BodyLooks, 'girth'>;
}

/** Body with segment lengths that differ from the published fractions, each on its own, as people's do. */
export function createBody(outline: BodyOutline, random: SeededRandom): Body {
  const { statureM, bodyMassIndex, segmentSpreadSd } = outline;
  const variation = (): number =>
    segmentSpreadSd === undefined
      ? random.between(0.97, 1.03)
      : 1 + segmentSpreadSd * Math.min(2.5, Math.max(-2.5, drawNormal(random)));
  const segment = (fraction: number): number => statureM * fraction * variation();
  const lengths: BodyLengths = {
    upperArm: segment(SEGMENT_FRACTIONS.upperArm),
    forearm: segment(SEGMENT_FRACTIONS.forearm),
    hand: segment(SEGMENT_FRACTIONS.hand),
    trunk: segment(SEGMENT_FRACTIONS.trunk),
    thigh: segment(SEGMENT_FRACTIONS.thigh),
    shank: segment(SEGMENT_FRACTIONS.shank),
    ankleHeight: statureM * SEGMENT_FRACTIONS.ankleHeight,
    foot: segment(SEGMENT_FRACTIONS.foot),
    shoulderHalfWidth: segment(HALF_WIDTH_FRACTIONS.shoulder),
    hipHalfWidth: segment(HALF_WIDTH_FRACTIONS.hip),
    grip: statureM * GRIP_FRACTION,
  };
  // Girths grow with the square root of mass over stature squared; 22.5 kg/m2 is drawn as the average build.
  const girth = Math.sqrt(bodyMassIndex / 22.5) * random.between(0.98, 1.02);
  return { statureM, massKg: bodyMassIndex * statureM ** 2, lengths, looks: { ...outline.looks, girth } };
}
