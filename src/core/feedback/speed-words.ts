import { FIT_LIMITS } from '../pose/fit-limits.ts';
import type { PoseBackend, PoseModel } from '../pose/pose-service.ts';
import type { NetworkWish } from '../session/preferences.ts';
import type { FitVerdict } from '../pose/speed-fit.ts';
import type { PictureSpeed } from '../pose/picture-speed.ts';

/** Where the network computes, in words. */
export const BACKEND_WORDS: Readonly<Record<PoseBackend, string>> = {
  gpu: 'graphics processor',
  cpu: 'processor',
  library: 'the library’s own runtime, on the page',
};

/** What measures now, in one plain line: how many pictures, with what, and how old the numbers are. */
export function speedLine(model: PoseModel, { rateHz, ageMs, latencyMs }: PictureSpeed): string {
  const pictures = Math.round(rateHz);
  const age = (ageMs / 1000).toFixed(2);
  return `Measuring ${pictures} ${pictures === 1 ? 'picture' : 'pictures'} a second with the ${model} network; numbers are ${latencyMs === null ? 'at least ' : ''}${age} s old.`;
}

/** What to do about a machine or camera that is too slow, by the network that is wished; null where all is well. */
export function verdictSentence(verdict: FitVerdict, wish: NetworkWish, isShared: boolean): string | null {
  switch (verdict) {
    case 'checking':
    case 'good':
      return null;
    case 'late':
      return 'The numbers come late on this machine: cues follow the movement a moment later, the record is as good as ever. Closing other programs helps.';
    case 'camera-slow':
      if (isShared)
        return 'The call gives too few new pictures to judge a set. Ask the person to close other programs and to bring more light, and both of you for a better line.';
      return 'The camera gives too few pictures to judge a set. Bring more light, because cameras slow down in the dark, or use another camera.';
    case 'too-slow':
      return `This machine is too slow to judge a set as it runs. ${wish === 'full' || wish === 'heavy' ? 'Choose “automatic” or “lite” for the network' : 'Close other programs, plug in the charger, or use a computer'}; or record a clip and open it: clips are judged at any speed.`;
  }
}

/** What stands in the cue's place while too few pictures of a running set are measured. */
export const TOO_SLOW_NOW =
  'Too few pictures are measured to judge this: counts can be wrong. Close other programs, or plug in the charger.';

/** What to know of a recorded set of which too few pictures were measured, or null; rateHz null where it is unknown. */
export function slowSetSentence(rateHz: number | null): string | null {
  if (rateHz === null || rateHz >= FIT_LIMITS.leastRateHz) return null;
  return `Only ${rateHz.toFixed(1)} pictures a second were measured in this set; ${FIT_LIMITS.leastRateHz} are needed. Counts and times can be wrong, angles of slow movements are not. A clip of the set can be opened and measured again at any speed.`;
}
