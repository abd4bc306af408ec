import type { StorageUsage } from './session-store.ts';

/** Limits of the room that is left. Chosen for this tool; no published source. */
const ROOM = {
  /** An hour of recording takes under a tenth of it; a video of an hour does not fit. */
  leastBytes: 200_000_000,
  /** Share of what the browser allows. */
  mostShare: 0.9,
} as const;

/** Bytes left in the browser's store when that is so little that it should be said before it is full; else null. */
export function shortRoomBytes({ usedBytes, roomBytes }: StorageUsage): number | null {
  if (usedBytes === null || roomBytes === null || roomBytes <= 0) return null;
  const left = Math.max(0, roomBytes - usedBytes);
  return left < ROOM.leastBytes || usedBytes > ROOM.mostShare * roomBytes ? left : null;
}
