import type { Variant } from '../exercises/exercise.ts';
import { toRadians } from '../math/angle.ts';
import { armLengths, forearmWeightFigure, type LoadPerson } from './arm-geometry.ts';
import { bandPull, plannedRotationDeg, type FlexionRange } from './band-pull.ts';
import { fitBandCurve } from './band-force.ts';
import { barHoldMoment } from './bar-statics.ts';
import { bodyCurlLoad } from './body-curl.ts';
import type { Equipment } from './equipment.ts';
import { figureWithin, independentSum, isKnown, notKnown, type LoadValue } from './load-figure.ts';
import { BODY_DOUBT, FREE_FALL, INPUT_DOUBT } from './load-limits.ts';

/** An exercise with what it is done with, for the elbow moment. */
export interface LoadedExercise {
  readonly equipment: Equipment;
  readonly person: LoadPerson;
  /** How the forearm turns with a band; null otherwise. */
  readonly variant: Variant | null;
  readonly range: FlexionRange;
}

/** Ends of a repetition when the plan names none, degrees. Common practice, no source. */
export const USUAL_RANGE: FlexionRange = { startFlexionDeg: 10, topFlexionDeg: 130 };

/** A hold when the plan names no other angle, degrees: a right angle. */
export const USUAL_HOLD: FlexionRange = { startFlexionDeg: 90, topFlexionDeg: 90 };

/**
 * Moment that the flexors of one arm hold, by the angle, newton metres; negative: the extensors do. Of a hold on a bar it is the
 * most that the bar can ask, not what was done.
 */
export function elbowMomentOf({
  equipment,
  person,
  variant,
  range,
}: LoadedExercise): (flexionDeg: number) => LoadValue {
  switch (equipment.kind) {
    case 'bar':
      return (flexionDeg) => barHoldMoment(equipment, person, flexionDeg);
    case 'body-curl-set-up':
      return (flexionDeg) => {
        const load = bodyCurlLoad(equipment, person, flexionDeg);
        return isKnown(load) ? (load.elbowMomentNm ?? notKnown('no-body-mass')) : load;
      };
    case 'dumbbell':
      return (flexionDeg) => weightMoment(equipment.massKg, person, flexionDeg);
    case 'band': {
      const curve = fitBandCurve(equipment);
      if (!isKnown(curve)) return () => curve;
      return (flexionDeg) => {
        const rotationDeg = plannedRotationDeg(variant, flexionDeg, range);
        const pull = bandPull(curve, equipment, person, flexionDeg, rotationDeg);
        if (!isKnown(pull)) return pull;
        const parts = [pull.flexionMomentNm, forearmWeightFigure(person, flexionDeg)];
        return independentSum(parts, 'band-flexion-moment');
      };
    }
  }
}

/** Moment of a weight in the hand of a hanging upper arm, with the forearm's own weight, newton metres. */
export function weightMoment(massKg: number, person: LoadPerson, flexionDeg: number): LoadValue {
  const leverM = armLengths(person).elbowToGripM * Math.sin(toRadians(flexionDeg));
  const share = Math.hypot(INPUT_DOUBT.massShare, BODY_DOUBT.forearmLengthShare);
  const byWeight = figureWithin(massKg * FREE_FALL * leverM, share, 'weight-flexion-moment');
  return independentSum([byWeight, forearmWeightFigure(person, flexionDeg)], 'weight-flexion-moment');
}
