import { takeItem, type Stores } from '../exchange/take-item.ts';
import { NO_PLANS_BEFORE } from '../exchange/waiting-plans.ts';
import type { Parcel } from './parcel.ts';

/** Under which name what a consult left came, where it is kept beside something else. */
const ARRIVED_AS = 'consult';

/**
 * Keeps a record and what was said with it, by either side, like those of a package. False when not all of it could be kept.
 * @param cameAt - moment with offset
 */
export async function keepParcel(
  { record, review }: Parcel,
  stores: Stores,
  cameAt: string,
): Promise<boolean> {
  const arrival = { fileName: ARRIVED_AS, cameAt, newestBefore: NO_PLANS_BEFORE };
  const kept = await takeItem({ kind: 'record', record }, arrival, stores);
  return kept.ok && (await takeItem({ kind: 'review', review }, arrival, stores)).ok;
}
