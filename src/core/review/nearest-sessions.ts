import { instantSeconds } from '../plan/calendar.ts';
import type { RecordOutline } from '../session/record-opener.ts';
import type { SessionListing } from '../session/session-store.ts';

/** So many sessions stand in the choice of what to compare with; of thousands nobody picks from one list. Chosen for this tool. */
export const MOST_CHOICES = 40;

/**
 * The finished sessions of the same exercise that a session is most likely compared with, the newest first: of its own plan
 * before those of others, and of these the nearest in time.
 */
export function nearestSessions(
  listings: readonly SessionListing[],
  { id, createdAt, settings, plan }: Pick<RecordOutline, 'id' | 'createdAt' | 'settings' | 'plan'>,
): { readonly nearest: readonly SessionListing[]; readonly left: number } {
  const at = instantSeconds(createdAt);
  const comparable = listings
    .filter((one) => one.id !== id && one.state === 'finished' && one.exercise === settings.exercise)
    .map((listing) => {
      const seconds = instantSeconds(listing.createdAt);
      const isOwn = plan !== null && listing.plan?.planId === plan.planId;
      return { listing, seconds, isOwn, apart: Math.abs(seconds - at) };
    });
  const nearest = comparable
    .sort((a, b) => Number(b.isOwn) - Number(a.isOwn) || a.apart - b.apart)
    .slice(0, MOST_CHOICES)
    .sort((a, b) => Number(b.isOwn) - Number(a.isOwn) || b.seconds - a.seconds);
  return {
    nearest: nearest.map(({ listing }) => listing),
    left: comparable.length - nearest.length,
  };
}
