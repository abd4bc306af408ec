import { clamp, interpolateTable } from '../math/statistics.ts';

/**
 * Isometric elbow flexor moment of a healthy reference body over flexion: force along the tendon, fully active, times
 * moment arm. From the output files f_elbowflexors.mot and r_elbowflexors.mot (BMClab/BMC) of the upper-extremity model
 * of Holzbaur, Murray & Delp, Ann Biomed Eng 2005;33:829-840. Brachioradialis is not in them, so the sum is somewhat
 * small for the whole group; its peak (66.65 N m) is near the men's mean that is published for 90 deg (71.1).
 */
const CAPACITY_TABLE = {
  flexionDeg: [0, 15.8, 30.2, 46, 60.4, 74.8, 80.1, 85.4, 90.6, 95.9, 105.1, 120.8, 130],
  bicepsNm: [9.74, 19.43, 27.96, 36.47, 42.6, 46.22, 46.62, 46.49, 45.81, 44.58, 41.17, 32.32, 25.98],
  brachialisNm: [14.89, 13.75, 12.85, 12.51, 16.29, 19.03, 19.7, 20.16, 20.41, 20.45, 20.0, 17.8, 15.85],
} as const;

/** Where the table of capacity ends, degrees of flexion. Outside, no share of capacity is given. */
export const CAPACITY_RANGE_DEG = { least: 0, most: 130 } as const;

/** Largest flexor moment of the table, newton metres, at 85.4 deg. */
export const REFERENCE_PEAK_NM = 66.65;

/**
 * Mean isometric flexor moment at 90 deg of healthy women and men, newton metres: Askew, An, Morrey & Chao 1987 (CORR
 * 222:261-6), from memory. The span in which "a healthy population" lies when sex and training are not known.
 */
export const POPULATION_PEAK_NM = { least: 33, most: 71.1 } as const;

/** Flexor moment and the biceps' part in it at one angle. */
export interface FlexorCapacity {
  readonly momentNm: number;
  /** Of the flexor moment, 0 to 1, when all flexors are fully active. */
  readonly bicepsShare: number;
}

/**
 * The flexors' isometric moment at an angle, for a healthy population; linear between the table's points.
 * @param flexionDeg - held at the table's ends outside of it; ask withinCapacityTable before
 * @param peakNm - the largest moment of the curve; the shape is the table's
 */
export function flexorCapacity(flexionDeg: number, peakNm: number = REFERENCE_PEAK_NM): FlexorCapacity {
  const { flexionDeg: angles, bicepsNm, brachialisNm } = CAPACITY_TABLE;
  const biceps = interpolateTable(angles, bicepsNm, flexionDeg);
  const sum = biceps + interpolateTable(angles, brachialisNm, flexionDeg);
  return { momentNm: (sum / REFERENCE_PEAK_NM) * peakNm, bicepsShare: biceps / sum };
}

/** True where the table knows the capacity. */
export function withinCapacityTable(flexionDeg: number): boolean {
  return flexionDeg >= CAPACITY_RANGE_DEG.least && flexionDeg <= CAPACITY_RANGE_DEG.most;
}

/** The part of a range of flexion in which the capacity is known, degrees. */
export function clampToCapacity(flexionDeg: number): number {
  return clamp(flexionDeg, CAPACITY_RANGE_DEG.least, CAPACITY_RANGE_DEG.most);
}
