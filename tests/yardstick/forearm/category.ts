/** How the forearm is turned, by which of three positions a right angle apart is nearest. */
export const FOREARM_CATEGORIES = ['palm down', 'thumb up', 'palm up'] as const;
export type ForearmCategory = (typeof FOREARM_CATEGORIES)[number];

/** Half way between thumb up (0) and palm up (90), degrees: of the definition, not of any data. */
const BETWEEN_DEG = 45;

/** The category of a forearm rotation in degrees: 0 neutral, positive supination, negative pronation. */
export function forearmCategory(rotationDeg: number): ForearmCategory {
  if (rotationDeg >= BETWEEN_DEG) return 'palm up';
  return rotationDeg <= -BETWEEN_DEG ? 'palm down' : 'thumb up';
}
