/**
 * A change of pain that means something to people: at least 2 points and at least 30 %, both (Farrar et al. 2001, Pain
 * 94:149-158; Salaffi et al. 2004, Eur J Pain 8:283-291). One point is within the noise of the scale.
 */
export const PAIN_CHANGE = { points: 2, share: 0.3 } as const;

/** Floating-point dust of means of whole points. */
const DUST = 1e-9;

/** What has become of pain from one mean rating to another, 0 to 10. */
export function painChange(first: number, last: number): 'less' | 'more' | 'no-change' {
  const change = last - first;
  if (Math.abs(change) < PAIN_CHANGE.points - DUST) return 'no-change';
  if (first > 0 && Math.abs(change) < PAIN_CHANGE.share * first - DUST) return 'no-change';
  return change < 0 ? 'less' : 'more';
}
