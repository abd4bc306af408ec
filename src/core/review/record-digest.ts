import { sha256 } from '@noble/hashes/sha2.js';
import { bytesToHex, utf8ToBytes } from '@noble/hashes/utils.js';
import type { RecordOutline } from '../session/record-opener.ts';

/**
 * SHA-256, as 64 hex digits, of what a record says was found: its id, what was done with which arm, and of every set the
 * times and verdicts of its holds and repetitions. Not of the whole file, because a newer version of the program adds
 * fields when it opens an old record, and a review of it must still fit.
 */
export function recordDigest({ id, settings, sets }: RecordOutline): string {
  const found = [
    id,
    settings.exercise,
    settings.side,
    sets.map(({ startedAt, judgement: { holds, repetitions } }) => [
      startedAt,
      holds.map(({ startSeconds, endSeconds, inRangeSeconds }) => [startSeconds, endSeconds, inRangeSeconds]),
      repetitions.map((repetition) => [
        repetition.startSeconds,
        repetition.topStartSeconds,
        repetition.loweringStartSeconds,
        repetition.endSeconds,
        repetition.partial,
        repetition.shoulderDominant,
      ]),
    ]),
  ];
  return bytesToHex(sha256(utf8ToBytes(JSON.stringify(found))));
}
