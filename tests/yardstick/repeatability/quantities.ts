import type { Hold, Repetition } from '../../../src/core/exercises/judgement.ts';
import { isMeasured, type Measured } from '../../../src/core/kinematics/measured.ts';
import { pairsOf, trueTravelCm, type TrueRepetition } from '../validation/true-repetitions.ts';
import type { TruthFrame } from '../truth.ts';
import type { Figure, SetValues } from './kept-values.ts';
import type { YardstickSet } from '../yardstick-set.ts';

/** What a clinician compares from one session to the next. */
export const QUANTITIES = [
  { key: 'holdElbowDeg', words: 'elbow angle of a hold', unit: 'deg', digits: 1 },
  { key: 'rangeDeg', words: 'range of a repetition', unit: 'deg', digits: 1 },
  { key: 'loweringSeconds', words: 'lowering time', unit: 's', digits: 2 },
  { key: 'shoulderShare', words: 'shoulder’s share of the motion', unit: '', digits: 3 },
  { key: 'torsoTravelCm', words: 'torso travel of a repetition', unit: 'cm', digits: 1 },
] as const;
export type QuantityKey = (typeof QUANTITIES)[number]['key'];

/** The figures of a set from what was judged and from what is true. */
export function setValues(
  judged: { readonly holds: readonly Hold[]; readonly repetitions: readonly Repetition[] },
  { truth, events }: Pick<YardstickSet, 'truth' | 'events'>,
): SetValues {
  const pairs = pairsOf(events.repetitions, judged.repetitions);
  const each = (of: (own: Repetition) => Measured | undefined, trueOf: (own: TrueRepetition) => number) =>
    pairs.map(([own, found]): Figure => {
      const measured = of(found);
      return measured !== undefined && isMeasured(measured)
        ? { value: measured.value, truth: trueOf(own) }
        : null;
    });
  return {
    hold: holdFigure(judged.holds, events.holdsInRangeSeconds, truth),
    repetitions: {
      rangeDeg: each(
        ({ rangeDeg }) => rangeDeg,
        (own) => trueRise(own, truth, 'elbowFlexionDeg'),
      ),
      loweringSeconds: pairs.map(([own, found]) => ({ value: found.loweringSeconds, truth: own.lowerS })),
      shoulderShare: each(
        ({ row }) => row?.shoulderShare,
        (own) => trueShoulderShare(own, truth),
      ),
      torsoTravelCm: each(
        ({ torsoTravelCm }) => torsoTravelCm,
        (own) => trueTravelCm(own, truth),
      ),
    },
  };
}

const meanOf = (values: readonly number[]): number =>
  values.reduce((sum, value) => sum + value, 0) / values.length;

/** Mean elbow angle over all time in the range, as measured and in truth; null where no hold was found. */
function holdFigure(
  holds: readonly Hold[],
  trueSpans: YardstickSet['events']['holdsInRangeSeconds'],
  truth: readonly TruthFrame[],
): Figure {
  const parts = holds.flatMap(({ meanFlexionDeg, inRangeSeconds }) =>
    isMeasured(meanFlexionDeg) ? [{ angleDeg: meanFlexionDeg.value, inRangeSeconds }] : [],
  );
  const seconds = parts.reduce((sum, { inRangeSeconds }) => sum + inRangeSeconds, 0);
  const held = truth.filter(({ timeSeconds }) =>
    trueSpans.some(([from, to]) => timeSeconds >= from && timeSeconds <= to),
  );
  if (seconds === 0 || held.length === 0) return null;
  return {
    value: parts.reduce((sum, { angleDeg, inRangeSeconds }) => sum + angleDeg * inRangeSeconds, 0) / seconds,
    truth: meanOf(held.map(({ elbowFlexionDeg }) => elbowFlexionDeg)),
  };
}

/** How far a true angle is higher at the top of a repetition than at its start. */
function trueRise(
  { startS, endS, lowerS }: TrueRepetition,
  truth: readonly TruthFrame[],
  angle: 'elbowFlexionDeg' | 'shoulderFlexionDeg',
): number {
  const at = (seconds: number): number =>
    truth.findLast(({ timeSeconds }) => timeSeconds <= seconds)?.[angle] ?? NaN;
  return at(endS - lowerS) - at(startS);
}

/** Shoulder extension over itself and elbow flexion, by the measuring page's definition. */
function trueShoulderShare(own: TrueRepetition, truth: readonly TruthFrame[]): number {
  const extension = Math.max(0, -trueRise(own, truth, 'shoulderFlexionDeg'));
  return extension / (extension + trueRise(own, truth, 'elbowFlexionDeg'));
}
