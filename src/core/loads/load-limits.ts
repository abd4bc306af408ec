/** Standard acceleration of free fall, m/s2, exact by definition (CGPM 1901). Turns a mass into a weight. */
export const FREE_FALL = 9.80665;

/** A hold stays below the ceiling of its bar: the seat is drawn for this part of it. Common practice, no source. */
export const HOLD_PART_OF_CEILING = 0.8;

/**
 * Half-widths of what a user tells about the equipment. Common practice, no source: a tape measure held by one person,
 * plates and scales of a gym or a household.
 */
export const INPUT_DOUBT = {
  massShare: 0.02,
  barPlaceM: 0.02,
  bodyPlaceM: 0.03,
  anchorM: 0.05,
  handPlaceM: 0.01,
  scaleN: 1,
  scaleShare: 0.03,
} as const;

/**
 * How far the segments' weights, the forearm and the body's lengths together differ from the table's, as a share. Common
 * practice, no source.
 */
export const BODY_DOUBT = { segmentMassShare: 0.15, forearmLengthShare: 0.07, lengthShare: 0.03 } as const;

/**
 * A hand force of more body weights than this is no answer: its line runs so near to the feet that only bracing between bar
 * and floor would give it. Measured lean-backs ask for 0.8 at most (Melrose & Dawes 2015).
 */
export const LARGEST_HAND_SHARE = 1;

/**
 * The body's centre of mass between the feet (0) and the shoulders (1) of a straight body. 0.566 of stature, from push-up
 * loads of 69.16 % (Suprak et al. 2011) with the shoulder at 0.818 of stature; tables of standing people give 0.55 to
 * 0.59 of stature, which is the half-width.
 */
export const CENTRE_OVER_SHOULDER_HEIGHT = { value: 0.692, halfWidth: 0.027 } as const;

/**
 * Doubt of a band's force as a share of it. Supplier's figures are off by a fifth (Uchida et al. 2016, J Phys Ther Sci
 * 28:1266-71), own readings of a household scale repeat little better, and force falls by some 12 % over the first
 * hundreds of stretches (Simoneau et al. 2001, JOSPT 31:16-24, from memory): never less than manyReadings.
 */
export const BAND_DOUBT = { fewReadings: 0.2, manyReadings: 0.12, many: 5, smallForceShare: 0.25 } as const;

/**
 * How far beyond the largest reading a band's force is still given, as a share of that reading's elongation; the doubt
 * doubles over that stretch. Common practice, no source.
 */
export const BAND_BEYOND_SHARE = 0.2;

/** Readings of which the elongations differ by less than this share of the larger give no curve. Common practice, no source. */
export const BAND_LEAST_SPREAD = 0.15;

/** Forearm rotation of full supination, degrees from thumb up; pronation the same the other way. AAOS norm, 80 each. */
export const FULL_ROTATION_DEG = 80;

/** A pronating moment below this share of the weakest published supination strength (3.3 N m) is called none: 0.05 N m. */
export const PRONATION_NOTICED_NM = 0.05;

/**
 * Feet that lean back on a floor slip where the friction asked for exceeds this. A dry rubber sole on a dry floor gives
 * 0.5 and more. Common practice, no source.
 */
export const FRICTION_DOUBTED = 0.5;

/**
 * How far the sum of the bar's weight and the pull may lean from straight down before a bar is taken to climb out of a
 * hook that is open above, degrees. It means walls of half the bar's radius. Common practice, no source.
 */
export const SEATED_LEAN_DEG = 30;

/**
 * The same for a hook that is open in front, where nothing but friction keeps the bar from the open side, degrees. Common
 * practice, no source.
 */
export const SEATED_LEAN_TO_OPEN_SIDE_DEG = 5;

/**
 * How the biceps' part of a measured elbow moment may differ from its part in the flexors' strength, which is taken for the
 * value: the other flexors may take twice as much of it or none. Common practice, no source.
 */
export const BICEPS_PART_LEAST = 0.5;

/** Doubt of a moment arm as a share: what two published curves differ by between 30 and 60 deg of flexion. */
export const MOMENT_ARM_DOUBT_SHARE = 0.2;

/** Thirds of the range whose demand over capacity differs by less than this share are called the same. Common practice, no source. */
export const SAME_DEMAND_SHARE = 0.1;
