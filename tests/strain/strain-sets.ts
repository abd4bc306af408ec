import {
  alongLegs,
  COURSES,
  secondsOfLegs,
  type Course,
  type Leg,
  type Posture,
} from '../helpers/kinematic-traces.ts';
import { seededRandom } from '../helpers/seeded-random.ts';

/** A repetition as it was made, seconds from the start of the set. */
interface TrueRepetition {
  readonly bendingSeconds: number;
  readonly loweringSeconds: number;
  readonly partial: boolean;
}

/** A set under one strain, and what is true in it by the definitions of docs/measuring.md. */
export interface StrainSet {
  readonly kind: StrainKind;
  readonly exercise: 'free-curl' | 'hold';
  readonly seconds: number;
  readonly posture: (timeSeconds: number) => Posture;
  readonly rateHz: number;
  /** Noise of the elbow's angle: standard deviation and correlation time. */
  readonly noiseDeg: number;
  readonly noiseSeconds: number;
  /** Each picture's time is off by up to a quarter of this share of a step. */
  readonly jitter: number;
  /** Share of the pictures that are lost. */
  readonly dropShare: number;
  /** Whether all movements are minimum-jerk; otherwise they are of some other course. */
  readonly isMinimumJerk: boolean;
  readonly repetitions: readonly TrueRepetition[];
  /** Seconds in the target range, slow and seen; null where nothing is held. */
  readonly holdSeconds: number | null;
}

/** What a set is strained by, and how it is called in the table. */
export const STRAIN_KINDS = {
  plain: 'plain',
  jitter: 'uneven picture times',
  dropped: 'lost pictures, 10 to 45 %',
  gaps: 'arm unseen for 0.3 to 0.9 s',
  slow: 'slow, 4 to 8 s each way',
  fast: 'fast, 0.45 to 0.8 s each way',
  partial: 'partial among full',
  paused: 'stops on the way',
  bounced: 'bounces at top or bottom',
  tremor: 'tremor of 1 to 3 deg',
  posture: 'other posture between repetitions',
  walking: 'walks in and out',
  hold: 'hold',
  'hold-left': 'hold left and taken up',
  'hold-unseen': 'hold unseen at times',
  'hold-tremor': 'hold with tremor',
} as const;
export type StrainKind = keyof typeof STRAIN_KINDS;

/** The kinds by name. */
// Object.keys of a literal const gives exactly its keys; TypeScript types them as string only because objects are open.
export const STRAIN_KIND_NAMES = Object.keys(STRAIN_KINDS) as readonly StrainKind[];

/** Chances, drawn from a seed. */
class Chance {
  readonly #random: () => number;

  constructor(seed: number) {
    this.#random = seededRandom(seed);
  }

  between(low: number, high: number): number {
    return low + (high - low) * this.#random();
  }

  happens(share: number): boolean {
    return this.#random() < share;
  }

  oneOf<T>(first: T, ...others: readonly T[]): T {
    return [first, ...others][Math.floor(this.#random() * (others.length + 1))] ?? first;
  }
}

type Unseen = readonly (readonly [number, number])[];

/** The set of a kind that follows from a seed alone. */
export function strainSet(kind: StrainKind, seed: number): StrainSet {
  const chance = new Chance(seed * 7919 + 17 * STRAIN_KIND_NAMES.indexOf(kind));
  const isMinimumJerk = chance.happens(0.5);
  const { minimumJerk, linear, ...others } = COURSES;
  const course = isMinimumJerk ? minimumJerk : chance.oneOf<Course>(linear, ...Object.values(others));
  const how = {
    kind,
    rateHz: kind === 'fast' ? 30 : chance.oneOf(10, 15, 30, 30),
    noiseDeg: chance.between(0.5, 2),
    noiseSeconds: chance.between(0.04, 0.12),
    jitter: kind === 'jitter' ? 1 : 0.2,
    dropShare: kind === 'dropped' ? chance.between(0.1, 0.45) : 0,
    isMinimumJerk,
  };
  const made = kind.startsWith('hold') ? holdOf(kind, chance, course) : repetitionsOf(kind, chance, course);
  return { ...how, ...made };
}

type Made = Pick<StrainSet, 'exercise' | 'seconds' | 'posture' | 'repetitions' | 'holdSeconds'>;

function repetitionsOf(kind: StrainKind, chance: Chance, course: Course): Made {
  const bottomDeg = chance.between(5, 30);
  const rangeDeg = chance.between(60, 115);
  const count = 3 + Math.floor(chance.between(0, 3));
  const [shortest, longest] = kind === 'slow' ? [4, 8] : kind === 'fast' ? [0.45, 0.8] : [1, 3.5];
  const legs: Leg[] = [];
  const repetitions: TrueRepetition[] = [];
  const unseen: [number, number][] = [];
  const moves: { fromSeconds: number; shoulderDeg: number; feet: number }[] = [];
  const now = (): number => secondsOfLegs(legs);
  const rest = (seconds: number, to: number): number => legs.push({ seconds, to, course });
  let lowDeg = bottomDeg;
  rest(chance.between(0.8, 1.5), lowDeg);
  const walkedInSeconds = kind === 'walking' ? walk(legs, chance, lowDeg) : 0;
  for (let i = 0; i < count; i++) {
    const partial = kind === 'partial' && i > 0 && chance.happens(0.4);
    const topDeg = lowDeg + rangeDeg * (partial ? chance.between(0.4, 0.6) : chance.between(0.93, 1.05));
    const startSeconds = now();
    moveTo(legs, topDeg, chance.between(shortest, longest), kind, chance, course);
    const bendingSeconds = now() - startSeconds;
    rest(chance.between(0.2, kind === 'paused' ? 2.5 : 0.7), topDeg);
    if (kind === 'bounced' && chance.happens(0.5)) bounce(legs, topDeg, -rangeDeg, chance, course);
    if (kind === 'posture' && i > 0) lowDeg = bottomDeg + chance.between(-5, 12);
    const loweringFrom = now();
    moveTo(legs, lowDeg, chance.between(shortest, longest), kind, chance, course);
    const loweringSeconds = now() - loweringFrom;
    if (kind === 'bounced' && chance.happens(0.5)) bounce(legs, lowDeg, rangeDeg, chance, course);
    rest(chance.between(0.3, kind === 'paused' ? 2.5 : 1), lowDeg);
    if (kind === 'posture' && chance.happens(0.6)) {
      moves.push({
        fromSeconds: now(),
        shoulderDeg: chance.between(-15, 25),
        feet: chance.between(-0.6, 0.6),
      });
      // The elbow gives a little while the feet and the shoulder find their place.
      legs.push({ seconds: 0.6, to: lowDeg + chance.between(0, 0.2) * rangeDeg, course });
      legs.push({ seconds: 0.8, to: lowDeg, course });
    }
    if (kind === 'gaps' && chance.happens(0.6)) {
      const from = chance.between(startSeconds, now());
      unseen.push([from, from + chance.between(0.3, 0.9)]);
    }
    repetitions.push({ bendingSeconds, loweringSeconds, partial });
  }
  rest(chance.between(1.2, 2), lowDeg);
  const walksOutFrom = kind === 'walking' && chance.happens(0.5) ? now() : Infinity;
  if (walksOutFrom < Infinity) walk(legs, chance, lowDeg);
  const level = alongLegs(bottomDeg, legs);
  const trembles = tremor(kind === 'tremor', chance);
  return {
    exercise: 'free-curl',
    seconds: now(),
    repetitions,
    holdSeconds: null,
    posture: (t) => {
      const done = moves.filter(({ fromSeconds }) => t >= fromSeconds + 1.4);
      const feet =
        done.reduce((sum, move) => sum + move.feet, 0) +
        WALK_SPEED * (Math.min(0, t - walkedInSeconds) + Math.max(0, t - walksOutFrom));
      return {
        elbowDeg: Math.max(0, level(t) + trembles(t)),
        shoulderDeg: done.at(-1)?.shoulderDeg ?? 0,
        shoulderAt: { forward: feet, up: 0 },
        ankleShift: feet,
        ...unseenAt(unseen, t),
      };
    },
  };
}

/** Upper-arm lengths a second: a slow walk of about 0.5 m/s. */
const WALK_SPEED = 1.6;

/** Steps with the arms swinging; gives the time at which they end. */
function walk(legs: Leg[], chance: Chance, lowDeg: number): number {
  const steps = 2 + Math.floor(chance.between(0, 3));
  for (let step = 0; step < steps; step++) {
    const swingDeg = chance.between(20, 45);
    legs.push({ seconds: 0.55, to: lowDeg + swingDeg }, { seconds: 0.55, to: lowDeg });
  }
  const walked = secondsOfLegs(legs);
  legs.push({ seconds: chance.between(0.8, 1.5), to: lowDeg });
  return walked;
}

/** A movement; one that is paused may stop on its way. */
function moveTo(
  legs: Leg[],
  to: number,
  seconds: number,
  kind: StrainKind,
  chance: Chance,
  course: Course,
): void {
  const from = legs.at(-1)?.to ?? to;
  if (kind !== 'paused' || !chance.happens(0.4)) {
    legs.push({ seconds, to, course });
    return;
  }
  const share = chance.between(0.3, 0.7);
  const stop = from + share * (to - from);
  legs.push({ seconds: share * seconds, to: stop, course }, { seconds: chance.between(0.3, 1.5), to: stop });
  legs.push({ seconds: (1 - share) * seconds, to, course });
}

/** Goes 10 to 24 % of the range away and comes back: less than a repetition. */
function bounce(legs: Leg[], fromDeg: number, rangeDeg: number, chance: Chance, course: Course): void {
  const times = chance.oneOf(1, 1, 2);
  for (let i = 0; i < times; i++) {
    legs.push({
      seconds: chance.between(0.2, 0.5),
      to: fromDeg + chance.between(0.1, 0.24) * rangeDeg,
      course,
    });
    legs.push({ seconds: chance.between(0.2, 0.5), to: fromDeg, course });
  }
}

function tremor(trembles: boolean, chance: Chance): (t: number) => number {
  if (!trembles) return () => 0;
  const [sizeDeg, hertz] = [chance.between(1, 3), chance.between(4, 10)];
  return (t) => sizeDeg * Math.sin(2 * Math.PI * hertz * t);
}

function unseenAt(unseen: Unseen, t: number): Partial<Posture> {
  return unseen.some(([from, to]) => t >= from && t < to) ? { unseen: 'arm-not-seen' } : {};
}

const RANGE_DEG = [80, 100] as const;
const SPEED_LIMIT_DEG_PER_S = 20;
const SHORTEST_STAY_SECONDS = 1;
const STEP_SECONDS = 1 / 240;

function holdOf(kind: StrainKind, chance: Chance, course: Course): Made {
  const hangDeg = chance.between(5, 20);
  const legs: Leg[] = [{ seconds: chance.between(0.8, 1.5), to: hangDeg }];
  const unseen: [number, number][] = [];
  const now = (): number => secondsOfLegs(legs);
  const stay = (): number => chance.between(85, 95);
  legs.push({ seconds: chance.between(1.2, 2), to: stay(), course });
  const parts = 2 + Math.floor(chance.between(0, 2));
  for (let i = 0; i < parts; i++) {
    legs.push({ seconds: chance.between(3, 7), to: stay(), course });
    if (kind === 'hold-unseen') {
      const from = now() - chance.between(1, 2.5);
      unseen.push([from, from + chance.oneOf(chance.between(0.4, 0.9), chance.between(1.5, 3))]);
      legs.push({ seconds: 3, to: stay(), course });
    }
    if (kind === 'hold-left' && i + 1 < parts) {
      const out = chance.oneOf(chance.between(60, 70), chance.between(110, 120));
      legs.push({ seconds: chance.between(0.8, 1.5), to: out, course });
      legs.push({ seconds: chance.between(0.2, 3), to: out });
      legs.push({ seconds: chance.between(0.8, 1.5), to: stay(), course });
    }
  }
  legs.push({ seconds: chance.between(0.8, 1.5), to: hangDeg, course }, { seconds: 1.5, to: hangDeg });
  const level = alongLegs(hangDeg, legs);
  const trembles = tremor(kind === 'hold-tremor', chance);
  return {
    exercise: 'hold',
    seconds: now(),
    repetitions: [],
    holdSeconds: trueHoldSeconds(level, unseen, now()),
    posture: (t) => ({ elbowDeg: level(t) + trembles(t), ...unseenAt(unseen, t) }),
  };
}

/** Time of the level without its tremor in the range, slow and seen, stays under a second left out. */
function trueHoldSeconds(level: (t: number) => number, unseen: Unseen, seconds: number): number {
  let sum = 0;
  let run = 0;
  for (let t = 0; t < seconds; t += STEP_SECONDS) {
    const speed = (level(t + STEP_SECONDS) - level(t - STEP_SECONDS)) / (2 * STEP_SECONDS);
    const [low, high] = RANGE_DEG;
    const isIn = level(t) >= low && level(t) <= high && Math.abs(speed) <= SPEED_LIMIT_DEG_PER_S;
    const isSeen = unseenAt(unseen, t).unseen === undefined;
    if (isIn && isSeen) run += STEP_SECONDS;
    else if (!isIn) {
      if (run >= SHORTEST_STAY_SECONDS) sum += run;
      run = 0;
    }
  }
  return sum + (run >= SHORTEST_STAY_SECONDS ? run : 0);
}
