import { FIT_LIMITS } from '../pose/fit-limits.ts';
import { GATE_LIMITS } from '../pose/gate-limits.ts';

/** What the last seconds of a call's picture were like. */
export interface TileSight {
  /** Length of the treated upper arm in what is measured, pixels; null while it is not seen. */
  readonly upperArmPx: number | null;
  /** New pictures a second that were measured; one that the call shows again is not new. Null before a few came. */
  readonly rateHz: number | null;
  /** The longest time between two new pictures, seconds. */
  readonly longestPauseSeconds: number;
  /** Pictures a second that this machine could measure; null while it is not known. */
  readonly capacityHz: number | null;
}

/** One thing that was judged. */
export interface TileFinding {
  readonly what: 'Size' | 'Rate' | 'Freezes';
  readonly role: 'within' | 'attention' | 'quiet';
  readonly sentence: string;
}

/** Bounds of a good tile. */
export const TILE_LIMITS = {
  /**
   * Down to this upper arm, pixels, the elbow's error on drawn people was the same as at 80 px, compressed as on a poor line:
   * `npm run small-tiles`. Real pictures in a call are worse by as much as nobody has measured.
   */
  shownUpperArmPx: 28,
  /** From here on there is room to spare: our own choice, half as much again as what was shown. */
  goodUpperArmPx: 42,
  /** New pictures a second from which times of slow exercise are hardly surer: clips are measured at 15, less what a call's rate scatters. */
  goodRateHz: 12,
  /** A pause from which it is said: where things were before says nothing after it. Source: gate-limits.ts. */
  pauseSeconds: GATE_LIMITS.continuitySeconds,
  /** So long is looked back, seconds. */
  lookBackSeconds: 10,
  /** The call is what limits the rate where the machine could measure so many times more. */
  machineRoom: 1.3,
} as const;

/** Judges the size of the person in a call's tile, its rate and its freezes. */
export function tileFindings(sight: TileSight): readonly TileFinding[] {
  return [sizeOf(sight), rateOf(sight), freezesOf(sight)];
}

function sizeOf({ upperArmPx }: TileSight): TileFinding {
  const what = 'Size';
  if (upperArmPx === null)
    return { what, role: 'quiet', sentence: 'Not known: the treated arm is not seen yet.' };
  const px = `The upper arm has ${String(Math.round(upperArmPx))} pixels`;
  if (upperArmPx < GATE_LIMITS.leastUpperArmPx)
    return {
      what,
      role: 'attention',
      sentence: `${px}; below ${String(GATE_LIMITS.leastUpperArmPx)} nothing is measured. Make the tile larger in the call, or ask the person to come closer.`,
    };
  if (upperArmPx < TILE_LIMITS.goodUpperArmPx)
    return {
      what,
      role: 'attention',
      sentence: `${px}. That can be measured, with little to spare: a larger tile helps.`,
    };
  return { what, role: 'within', sentence: `${px}: enough.` };
}

function rateOf({ rateHz, capacityHz }: TileSight): TileFinding {
  const what = 'Rate';
  if (rateHz === null) return { what, role: 'quiet', sentence: 'Not known: too few new pictures have come.' };
  const rate = `${rateHz.toFixed(0)} new pictures a second`;
  const isMachine = capacityHz !== null && capacityHz < rateHz * TILE_LIMITS.machineRoom;
  const by = isMachine ? 'as many as this machine can measure' : 'as many as the call shows';
  if (rateHz < FIT_LIMITS.leastRateHz)
    return {
      what,
      role: 'attention',
      sentence: `${rate}, ${by}; ${String(FIT_LIMITS.leastRateHz)} are needed to count repetitions and to time them.`,
    };
  if (rateHz < TILE_LIMITS.goodRateHz)
    return { what, role: 'attention', sentence: `${rate}, ${by}: times of quick movements are coarse.` };
  return { what, role: 'within', sentence: `${rate}: enough.` };
}

function freezesOf({ longestPauseSeconds, rateHz }: TileSight): TileFinding {
  const what = 'Freezes';
  if (rateHz === null && longestPauseSeconds < TILE_LIMITS.pauseSeconds)
    return { what, role: 'quiet', sentence: 'Not known yet.' };
  if (longestPauseSeconds >= TILE_LIMITS.pauseSeconds)
    return {
      what,
      role: 'attention',
      sentence: `The picture stood still for ${longestPauseSeconds.toFixed(1)} s within the last ${String(TILE_LIMITS.lookBackSeconds)} s. What is done meanwhile is not measured.`,
    };
  return { what, role: 'within', sentence: `None in the last ${String(TILE_LIMITS.lookBackSeconds)} s.` };
}

/** What a call's picture cannot give, said before it is measured. */
export const CALL_LIMITS: readonly string[] = [
  'The call compresses the picture: quick and small movements blur. Angles are surer where the camera itself is measured.',
  'What was sent small and is shown large has more pixels and no more in it. The size above is that of this screen.',
  'On a poor line fewer pictures come, or none for a while. A picture that is shown again does not count as new; a person who keeps quite still may look like one that stands.',
  'Sound and picture come late, and not by the same time: a cue that you speak is heard after the moment it is meant for. Times in the record are those at which the pictures came here.',
  'A blurred or replaced background can take the hand, the forearm or the bar with it. Ask the person to turn it off.',
  'A call may cut a tile to fit, and lay names and signs over it. Frame what is seen of the person, and keep the pointer off it: a pointer that moves looks like a new picture.',
];
