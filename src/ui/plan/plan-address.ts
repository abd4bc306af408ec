import { planFragment } from '../../core/plan/plan-link.ts';
import type { Plan } from '../../core/plan/plan.ts';

/**
 * Bytes of a link at most that are shown as a QR code: up to here it has 97 modules a side (version 20 at level L), which
 * a telephone reads off a screen. Longer ones get so fine that many fail: common practice, no source.
 */
const MOST_QR_BYTES = 858;

/** The link to a plan at the address at which the app is open. The plan stands behind the #, which is sent nowhere. */
export function planAddress(plan: Plan, appAddress: string): string {
  const address = new URL(appAddress);
  address.hash = planFragment(plan);
  return address.href;
}

/** Whether a link is short enough to be shown as a QR code that can be read. Links are ASCII. */
export function fitsQrCode(link: string): boolean {
  return link.length <= MOST_QR_BYTES;
}
