/**
 * Shapes of a movement from one level to another: the regularised incomplete beta function I_x(p, p), x from 0 to 1.
 * p = 1 is constant speed, 1.5 a half-ellipse of speed (close to a cosine and to a ramped trapezoid), 2 a parabola of
 * speed, 3 the minimum-jerk movement (Flash and Hogan 1985). Closed forms by integrating x^(p-1) (1-x)^(p-1).
 */
export const PROFILE_SHAPES = [1, 1.5, 2, 3] as const;

/** One of the shapes. */
export type ProfileShape = (typeof PROFILE_SHAPES)[number];

/** Share of the way done at share x of the time: 0 before, 1 after, rising between. */
export function profile(shape: ProfileShape, x: number): number {
  if (x <= 0) return 0;
  if (x >= 1) return 1;
  switch (shape) {
    case 1:
      return x;
    case 1.5:
      return (2 / Math.PI) * (Math.asin(Math.sqrt(x)) - (1 - 2 * x) * Math.sqrt(x * (1 - x)));
    case 2:
      return x * x * (3 - 2 * x);
    case 3:
      return x * x * x * (10 - 15 * x + 6 * x * x);
  }
}
