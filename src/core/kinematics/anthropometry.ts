/**
 * Lengths of the body as fractions of stature. Source: Drillis & Contini 1966 (Body Segment Parameters, NYU TR
 * 1166-03), as drawn in Winter, Biomechanics and Motor Control of Human Movement, Fig. 4.1. A table of means: a
 * person's own segments differ by several per cent, other tables by up to ten.
 */
export const SEGMENT_OVER_STATURE = {
  trunk: 0.288,
  thigh: 0.245,
  shank: 0.246,
  upperArm: 0.186,
  forearm: 0.146,
} as const;

/** A segment of the table. */
export type Segment = keyof typeof SEGMENT_OVER_STATURE;

/**
 * Distance of a joint's centre from the body's plane of symmetry, as a fraction of stature. No published source:
 * measured on the project's phantom, whose joints sit in flesh; the anatomical breadths (0.259 and 0.191 of stature,
 * same figure of Winter) reach to the skin and are too wide for joint centres.
 */
export const HALF_WIDTH_OVER_STATURE = { shoulder: 0.112, hip: 0.06 } as const;

/** How each segment's length scatters between people about the table, as a fraction of itself. Common practice, no source. */
export const SEGMENT_SPREAD: Readonly<Record<Segment, number>> = {
  trunk: 0.05,
  thigh: 0.05,
  shank: 0.05,
  upperArm: 0.06,
  forearm: 0.07,
};

/**
 * Field of view along the picture's longer side that is assumed of a camera, degrees. Webcams and phones have about
 * 50 to 75; common practice, no source. It only sets how strongly near things look larger.
 */
export const ASSUMED_LONG_FIELD_DEG = 62;

/**
 * Usual tilt of the arm's plane outwards, degrees, and its scatter between people and exercises: elbows by the trunk,
 * forearm along the carrying angle. Common practice, no source.
 */
export const ARM_PLANE_TILT_DEG = 6;
export const ARM_PLANE_TILT_SD_DEG = 5;

/**
 * Distance from the elbow's axis to the middle of a closed grip, as a fraction of stature: the forearm of the table above and
 * about a third of the hand (0.108 of stature, same figure). The third is common practice, no source.
 */
export const ELBOW_TO_GRIP_OVER_STATURE = 0.183;

/** Height of the shoulder above the floor, standing, as a fraction of stature. Same figure of Winter, from memory. */
export const SHOULDER_HEIGHT_OVER_STATURE = 0.818;

/** A part of the body: its mass as a fraction of the body's, one side, and its centre from the upper end, as a fraction of it. */
export interface SegmentMass {
  readonly weight: number;
  readonly centre: number;
}

/**
 * Masses of the body's parts and where their centres are. Source: D. A. Winter, Biomechanics and Motor Control of Human
 * Movement (2009), table 4.1, after Dempster. The trunk is with neck and head and counts from the hip; the hand's
 * centre is taken at the hand's own point. The forearm with its hand counts from the elbow in lengths of the forearm.
 */
export const SEGMENT_MASS = {
  upperArm: { weight: 0.028, centre: 0.436 },
  forearm: { weight: 0.016, centre: 0.43 },
  hand: { weight: 0.006, centre: 1 },
  forearmWithHand: { weight: 0.022, centre: 0.682 },
  thigh: { weight: 0.1, centre: 0.433 },
  shank: { weight: 0.0465, centre: 0.433 },
  trunk: { weight: 0.578, centre: 0.66 },
} as const satisfies Readonly<Record<string, SegmentMass>>;
