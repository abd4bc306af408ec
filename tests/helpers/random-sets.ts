import { alongLegs, COURSES, secondsOfLegs, type Course, type Leg } from './kinematic-traces.ts';
import { seededRandom } from './seeded-random.ts';

/** A random set with its truth, as a person and a camera may give it. */
export interface RandomSet {
  readonly seconds: number;
  readonly elbowDeg: (timeSeconds: number) => number;
  readonly rateHz: number;
  readonly noiseDeg: number;
  readonly noiseSeconds: number;
  /** True lowering times of the repetitions in order, and which are partial. */
  readonly lowerings: readonly { readonly seconds: number; readonly partial: boolean }[];
}

const RATES_HZ = [5, 10, 15, 30, 60];
const NOISES_DEG = [0.5, 1, 2, 3, 4];

/**
 * A set of 3 to 10 repetitions over 40 to 115 deg at 0.6 to 5.7 s each way: every other set pauses, some start bent,
 * stop half way in bending, end with half a repetition, hold partial repetitions of 40 to 60 %, or tremble by up to
 * 4 deg at 6 Hz.
 */
export function randomSet(seed: number): RandomSet {
  const random = seededRandom(seed * 7919);
  const between = (low: number, high: number): number => low + (high - low) * random();
  const happens = (share: number): boolean => random() < share;
  const oneOf = <T>(items: readonly T[], otherwise: T): T =>
    items[Math.floor(random() * items.length)] ?? otherwise;

  const rateHz = oneOf(RATES_HZ, 30);
  const noiseDeg = oneOf(NOISES_DEG, 1);
  const course: Course = oneOf(Object.values(COURSES), COURSES.cosine);
  const bottom = between(5, 40);
  const range = between(Math.max(40, 15 * noiseDeg), 115);
  const count = 3 + Math.floor(random() * 8);
  const tempo = between(0.8, 3);
  const isPaused = happens(0.5);
  const legs: Leg[] = [];
  const lowerings: { seconds: number; partial: boolean }[] = [];
  const startsBent = happens(0.2);
  const from = startsBent ? bottom + range - between(0, 15) : bottom;
  if (startsBent) legs.push({ seconds: between(0.5, 2), to: from }, { seconds: between(1, 2), to: bottom });
  legs.push({ seconds: between(0.3, 2.5), to: bottom });
  for (let i = 0; i < count; i++) {
    const partial = count >= 4 && i > 0 && happens(0.15);
    const top = bottom + range * (partial ? between(0.4, 0.6) : between(0.93, 1.07));
    const up = Math.max(0.6, tempo * between(0.8, 1.2));
    const down = Math.max(0.7, tempo * between(0.9, 1.8));
    if (happens(0.1)) {
      const stop = bottom + (top - bottom) * between(0.3, 0.7);
      legs.push({ seconds: up / 2, to: stop, course }, { seconds: between(0.3, 1), to: stop });
      legs.push({ seconds: up / 2, to: top, course });
    } else legs.push({ seconds: up, to: top, course });
    if (isPaused) legs.push({ seconds: between(0, 1.5), to: top });
    legs.push({ seconds: down, to: bottom + between(-4, 4), course });
    if (isPaused) legs.push({ seconds: between(0, 1.5), to: bottom });
    lowerings.push({ seconds: down, partial });
  }
  if (happens(0.15)) legs.push({ seconds: 0.7 * tempo, to: bottom + range, course });
  else legs.push({ seconds: between(0.2, 2), to: bottom });
  const level = alongLegs(from, legs);
  const tremorDeg = happens(0.2) ? between(1, 4) : 0;
  return {
    seconds: secondsOfLegs(legs),
    elbowDeg: (t) => level(t) + tremorDeg * Math.sin(2 * Math.PI * 6 * t),
    rateHz,
    noiseDeg,
    noiseSeconds: between(0.05, 0.2),
    lowerings,
  };
}
