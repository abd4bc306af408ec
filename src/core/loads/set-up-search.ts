import type { Variant } from '../exercises/exercise.ts';
import { armLengths, forearmWeightFigure, type LoadPerson } from './arm-geometry.ts';
import { bandTension, fitBandCurve, type BandCurve } from './band-force.ts';
import { bandGeometry, plannedRotationDeg, type FlexionRange } from './band-pull.ts';
import {
  coefficientOfVariation,
  demandAngles,
  demandCurve,
  type CapacityReference,
  type DemandCurve,
} from './demand.ts';
import type { Band } from './equipment.ts';
import { flexorCapacity, withinCapacityTable } from './flexor-capacity.ts';
import { figureWithDoubts, isKnown, notKnown, type LoadFigure, type NotKnown } from './load-figure.ts';
import { weightMoment } from './loaded-exercise.ts';

/** What a search keeps to. */
export interface SearchWish {
  readonly person: LoadPerson;
  readonly variant: Variant | null;
  readonly range: FlexionRange;
  readonly capacity: CapacityReference;
  /** Demand over capacity that no angle may reach, 0 to 1, chosen by the therapist. */
  readonly belowShare: number;
}

/** A band as it would be set up. */
interface BandSetUp {
  /** Which of the given bands, from 0. */
  readonly bandIndex: number;
  readonly band: Band;
  readonly evenness: number;
  readonly curve: DemandCurve;
}

/** Why set-ups were left out, counted. */
interface LeftOut {
  readonly reachesShare: number;
  readonly tooLittle: number;
  readonly slack: number;
  readonly beyondReadings: number;
}

/** The most even set-ups, best first, and what stood against the rest. */
export interface BandSearch {
  readonly tried: number;
  readonly leftOut: LeftOut;
  readonly best: readonly BandSetUp[];
  /** Evenness of each band as it was described; null where it goes slack or is not known. */
  readonly asDescribed: readonly (number | null)[];
}

/**
 * What is tried. Anchors: a grid about the hanging arm from the floor up, in steps of what a person can place. Lengths: the
 * band as it is, or gripped shorter, by which it stretches more for the same movement.
 */
const TRIED = {
  forwardM: [-1, -0.8, -0.6, -0.4, -0.2, 0, 0.2, 0.4, 0.6, 0.8, 1, 1.2],
  upSteps: 8,
  highestUpM: 0.4,
  lengthShares: [1, 0.9, 0.8, 0.7, 0.6],
  shown: 3,
  angles: 12,
} as const;

/** The elbow of a hanging arm above the floor over stature: shoulder 0.818 less upper arm 0.186, Winter, Fig. 4.1. */
const ELBOW_HEIGHT_OVER_STATURE = 0.632;

/**
 * Even is easy where there is nothing: a set-up has to reach this part of the chosen share somewhere. Common practice, no
 * source.
 */
const LEAST_PART_OF_SHARE = 0.5;

/**
 * The given bands over anchors and lengths: which keep demand most in proportion to strength, stay below the chosen share at
 * every angle even at the most that the band's doubt allows, and never go slack.
 */
export function searchBands(bands: readonly Band[], wish: SearchWish): BandSearch {
  const leftOut = { reachesShare: 0, tooLittle: 0, slack: 0, beyondReadings: 0 };
  const found: Omit<BandSetUp, 'curve'>[] = [];
  let tried = 0;
  bands.forEach((given, bandIndex) => {
    for (const band of setUpsOf(given, wish.person)) {
      const curve = fitBandCurve(band);
      if (!isKnown(curve)) continue;
      tried++;
      const looked = lookAt(band, curve, wish);
      if (typeof looked === 'string') leftOut[looked]++;
      else found.push({ bandIndex, band, evenness: looked });
    }
  });
  const best = found.sort((a, b) => a.evenness - b.evenness).slice(0, TRIED.shown);
  return {
    tried,
    leftOut,
    best: best.map((setUp) => ({ ...setUp, curve: curveOf(setUp.band, wish) })),
    asDescribed: bands
      .map((band) => curveOf(band, wish))
      .map(({ evenness, problems }) => (problems.length > 0 ? null : evenness)),
  };
}

function curveOf(band: Band, { person, variant, range, capacity }: SearchWish): DemandCurve {
  return demandCurve({ equipment: band, person, variant, range }, capacity);
}

/** A band at every anchor and length that is tried; readings of a part of a band are the same stretch of a shorter one. */
function setUpsOf(band: Band, { statureCm }: LoadPerson): Band[] {
  const floorM = (-ELBOW_HEIGHT_OVER_STATURE * statureCm) / 100;
  const ups = Array.from(
    { length: TRIED.upSteps + 1 },
    (_, step) => floorM + ((TRIED.highestUpM - floorM) * step) / TRIED.upSteps,
  );
  return TRIED.lengthShares.flatMap((share) =>
    TRIED.forwardM.flatMap((forward) =>
      ups.map((up) => ({ ...shortened(band, share), anchorM: { ...band.anchorM, forward, up } })),
    ),
  );
}

/** A band gripped so that this share of it lies between hand and anchor: the same force at the same stretch. */
export function shortened(band: Band, share: number): Band {
  return {
    ...band,
    restLengthM: band.restLengthM * share,
    readings: band.readings.map(({ lengthM, forceN }) => ({ lengthM: lengthM * share, forceN })),
  };
}

/** Its evenness, or why it is left out. */
function lookAt(band: Band, curve: BandCurve, wish: SearchWish): number | keyof LeftOut {
  const { elbowToGripM } = armLengths(wish.person);
  const shares: number[] = [];
  let largest = 0;
  const exercise = { equipment: band, ...wish };
  for (const flexionDeg of demandAngles(exercise, TRIED.angles)) {
    if (!withinCapacityTable(flexionDeg)) continue;
    const rotationDeg = plannedRotationDeg(wish.variant, flexionDeg, wish.range);
    const { lengthM, flexionLeverM } = bandGeometry(band, elbowToGripM, flexionDeg, rotationDeg);
    const tension = bandTension(curve, lengthM);
    if (!isKnown(tension)) return 'beyondReadings';
    if (tension.value === 0) return 'slack';
    const { momentNm } = flexorCapacity(flexionDeg, wish.capacity.peakNm);
    const forearm = forearmWeightFigure(wish.person, flexionDeg);
    shares.push((tension.value * flexionLeverM + forearm.value) / momentNm);
    const mostNm = Math.max(tension.most * flexionLeverM, tension.least * flexionLeverM) + forearm.most;
    if (mostNm / momentNm >= wish.belowShare) return 'reachesShare';
    largest = Math.max(largest, shares.at(-1) ?? 0);
  }
  const evenness = coefficientOfVariation(shares);
  return evenness === null || largest < LEAST_PART_OF_SHARE * wish.belowShare ? 'tooLittle' : evenness;
}

/** The heaviest weight in one hand that stays below a share of capacity, and the angle that decides. */
export interface WeightBelowShare {
  readonly massKg: LoadFigure;
  /** The angle at which demand over capacity is largest with it, degrees. */
  readonly weakestDeg: number;
}

/**
 * The heaviest dumbbell whose demand stays below a share of capacity at the weakest angle of the range, kilograms. For the
 * therapist, from a healthy population's curve: never a starting load.
 * @returns "outside-capacity-table" when the range lies outside; a mass of 0 when the forearm alone reaches the share
 */
export function heaviestWeightBelow(wish: SearchWish): WeightBelowShare | NotKnown {
  const exercise = {
    equipment: { kind: 'dumbbell', massKg: 0 },
    person: wish.person,
    variant: null,
    range: wish.range,
  } as const;
  const angles = demandAngles(exercise).filter(withinCapacityTable);
  let weakest: { readonly massKg: number; readonly deg: number } | null = null;
  for (const deg of angles) {
    const massKg = massAt(wish, deg, 'value', wish.capacity.peakNm);
    if (weakest === null || massKg < weakest.massKg) weakest = { massKg, deg };
  }
  if (weakest === null) return notKnown('outside-capacity-table');
  const weakestDeg = weakest.deg;
  const start: MassInput = { bound: 'value', peakNm: wish.capacity.peakNm };
  const massKg = figureWithDoubts<MassInput>(
    ({ bound, peakNm }) => massAt(wish, weakestDeg, bound, peakNm),
    start,
    [
      // A greater moment of the same weight leaves room for less weight.
      (input, sign) => ({ ...input, bound: sign < 0 ? 'most' : 'least' }),
      (input, sign) => ({ ...input, peakNm: sign < 0 ? wish.capacity.leastNm : wish.capacity.mostNm }),
    ],
    'weight-below-share',
  );
  return massKg === null ? notKnown('outside-capacity-table') : { massKg, weakestDeg };
}

/** The bound of the moment and the peak of the capacity that a mass is worked out for. */
interface MassInput {
  readonly bound: 'least' | 'value' | 'most';
  readonly peakNm: number;
}

/** The mass that reaches the share at one angle; without end where its lever is none. */
function massAt(
  { person, belowShare }: SearchWish,
  flexionDeg: number,
  bound: MassInput['bound'],
  peakNm: number,
): number {
  const alone = weightMoment(0, person, flexionDeg);
  const withOne = weightMoment(1, person, flexionDeg);
  if (!isKnown(alone) || !isKnown(withOne)) return 0;
  const roomNm = belowShare * flexorCapacity(flexionDeg, peakNm).momentNm - alone[bound];
  const perKg = withOne[bound] - alone[bound];
  return perKg > 1e-9 ? Math.max(0, roomNm / perKg) : MOST_MASS_KG;
}

/** The largest mass that the equipment schema lets in. */
const MOST_MASS_KG = 150;
