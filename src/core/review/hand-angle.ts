import { angleBetweenDeg } from '../math/angle.ts';
import type { HandAngle } from './review-document.ts';

/**
 * Elbow flexion between three points of a picture, degrees, 0 straight to 180. It is the angle in the plane of the
 * picture: a view from the side gives the elbow's own angle, an oblique one foreshortens it. Two points in one place give 0.
 */
export function flexionInPicture({
  shoulder,
  elbow,
  wrist,
}: Pick<HandAngle, 'shoulder' | 'elbow' | 'wrist'>): number {
  return angleBetweenDeg(elbow.x - shoulder.x, elbow.y - shoulder.y, wrist.x - elbow.x, wrist.y - elbow.y);
}
