import type { ExerciseSettings } from '../../src/core/exercises/exercise.ts';
import type { PoseFrame } from '../../src/core/pose/pose-frame.ts';
import {
  NETWORK_NOISE,
  STANDING,
  SyntheticNetwork,
  type Posture,
} from '../../tests/helpers/synthetic-body.ts';

/** Pictures a second of the sets whose cost is measured: twice what the pose network gives on two plain cores. */
export const RATE_HZ = 30;

/** Length of one repetition with its rests, seconds. */
const REPETITION_SECONDS = 5;

/** What is done in the costliest set: in a body-moving curl every repetition is also judged for curl or row. */
export const CURLING: ExerciseSettings = {
  exercise: 'body-curl',
  side: 'left',
  variant: null,
  statureCm: 175,
};

/** A hold, whose clock runs for the whole set. */
export const HOLDING: ExerciseSettings = { ...CURLING, exercise: 'hold' };

const ease = (share: number): number => (1 - Math.cos(Math.PI * share)) / 2;

/** From straight to bent and back with a rest at both ends, 0 to 1, at a share of the repetition. */
function bent(share: number): number {
  if (share < 0.3) return ease(share / 0.3);
  if (share < 0.38) return 1;
  return share < 0.9 ? 1 - ease((share - 0.38) / 0.52) : 0;
}

function curling(timeSeconds: number): Posture {
  const amount = bent((timeSeconds / REPETITION_SECONDS) % 1);
  return { ...STANDING, elbowFlexionDeg: 12 + 115 * amount, shoulderFlexionDeg: -8 * amount };
}

/** Near the target range, out of it for a moment twice a minute. */
function holding(timeSeconds: number): Posture {
  const out = timeSeconds % 30 > 28 ? 25 : 0;
  return { ...STANDING, elbowFlexionDeg: 90 + 3 * Math.sin(timeSeconds / 3) + out };
}

/** A seeded set of so many seconds, as a network with scatter sees it: the same frames each time. */
export function costSet({ exercise }: ExerciseSettings, seconds: number): PoseFrame[] {
  const network = new SyntheticNetwork({ noise: NETWORK_NOISE, seed: 11 });
  return network.film(exercise === 'hold' ? holding : curling, seconds, RATE_HZ);
}
