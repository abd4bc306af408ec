import { bodyCurlLoad } from './body-curl.ts';
import type { LoadPerson } from './arm-geometry.ts';
import type { BodyCurlSetUp } from './equipment.ts';
import { isKnown, notKnown, type LoadValue } from './load-figure.ts';

/** How far bar and feet are moved to show what changes, metres. */
export const MOVED_M = 0.1;

/** One way of changing a set-up and what it makes of the loads at one elbow angle. */
export interface CurlChange {
  readonly change: 'as-it-is' | 'bar-higher' | 'bar-lower' | 'feet-forward' | 'feet-back';
  readonly handShare: LoadValue;
  readonly elbowMomentNm: LoadValue;
}

/**
 * What another bar height or foot distance does to a body-moving curl at one elbow angle. Not every step further forward is
 * heavier: the hands' lever grows with the body's.
 */
export function curlChanges(setUp: BodyCurlSetUp, person: LoadPerson, flexionDeg: number): CurlChange[] {
  const { barHeightM, feetForwardM } = setUp;
  const ways = [
    ['as-it-is', {}],
    ['bar-higher', { barHeightM: barHeightM + MOVED_M }],
    ['bar-lower', { barHeightM: Math.max(0, barHeightM - MOVED_M) }],
    ['feet-forward', { feetForwardM: feetForwardM + MOVED_M }],
    ['feet-back', { feetForwardM: feetForwardM - MOVED_M }],
  ] as const;
  return ways.map(([change, moved]) => {
    const load = bodyCurlLoad({ ...setUp, ...moved }, person, flexionDeg);
    return isKnown(load)
      ? { change, handShare: load.handShare, elbowMomentNm: load.elbowMomentNm ?? notKnown('no-body-mass') }
      : { change, handShare: load, elbowMomentNm: load };
  });
}
