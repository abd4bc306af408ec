/**
 * Shapes of a movement from one level to another, by their speed: constant; constant with ramps of an eighth or a
 * quarter of the time at both ends; a half-sine (the movement is a cosine); the minimum-jerk movement (Flash and Hogan 1985).
 */
export const PROFILE_SHAPES = ['constant', 'short-ramps', 'long-ramps', 'cosine', 'minimum-jerk'] as const;

/** One of the shapes. */
export type ProfileShape = (typeof PROFILE_SHAPES)[number];

/** Share of the way done at share x of the time: 0 before, 1 after, rising between. */
export function profile(shape: ProfileShape, x: number): number {
  if (x <= 0) return 0;
  if (x >= 1) return 1;
  switch (shape) {
    case 'constant':
      return x;
    case 'short-ramps':
      return ramped(x, 1 / 8);
    case 'long-ramps':
      return ramped(x, 1 / 4);
    case 'cosine':
      return (1 - Math.cos(Math.PI * x)) / 2;
    case 'minimum-jerk':
      return x * x * x * (10 - 15 * x + 6 * x * x);
  }
}

/** Highest speed of each shape, whole ways in the whole time. */
export const PEAK_SPEEDS: Readonly<Record<ProfileShape, number>> = {
  constant: 1,
  'short-ramps': 8 / 7,
  'long-ramps': 4 / 3,
  cosine: Math.PI / 2,
  'minimum-jerk': 15 / 8,
};

function ramped(x: number, ramp: number): number {
  const topSpeed = 1 / (1 - ramp);
  if (x < ramp) return (topSpeed * x * x) / (2 * ramp);
  if (x > 1 - ramp) return 1 - (topSpeed * (1 - x) ** 2) / (2 * ramp);
  return topSpeed * (x - ramp / 2);
}
