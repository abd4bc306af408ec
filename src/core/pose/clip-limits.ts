/** Longer clips are refused, seconds: nobody exercises for an hour in one go, and their measuring would take hours. */
export const LONGEST_CLIP_SECONDS = 3600;

/** Missing this much at the end is a copy that broke off, seconds; some recorders cut their last pictures short. */
const BROKEN_OFF_SECONDS = 0.25;

/**
 * Whether a clip that ended without a fault broke off: its own table tells of pictures well after the last one that
 * came, or cannot be read. Times in seconds; statedLastSeconds is null where the file does not tell it.
 */
export function breaksOff(statedLastSeconds: number | null, lastSeconds: number): boolean {
  return statedLastSeconds === null || statedLastSeconds > lastSeconds + BROKEN_OFF_SECONDS;
}
