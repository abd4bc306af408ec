import type { SeededRandom } from './seeded-random.ts';

/** One movement of a script, from where the last one ended; equal angles make a pause. */
export interface ScriptStep {
  readonly toDeg: number;
  readonly durationS: number;
}

/** An angle over time, made of movements that start and end at rest. */
export interface MotionScript {
  readonly durationS: number;
  /** Angle in degrees; before the start and after the end it rests. */
  valueAt(timeS: number): number;
}

/**
 * Minimum-jerk course from 0 to 1, the shape of a practised human movement (T. Flash, N. Hogan, J. Neurosci. 5,
 * 1985): at rest at both ends, fastest (1.875 times the mean) in the middle.
 */
export function minimumJerk(share: number): number {
  const u = Math.min(1, Math.max(0, share));
  return u ** 3 * (10 - 15 * u + 6 * u * u);
}

export function createMotionScript(startDeg: number, steps: readonly ScriptStep[]): MotionScript {
  let [timeS, angleDeg] = [0, startDeg];
  const moves = steps.map(({ toDeg, durationS }) => {
    const move = { startS: timeS, durationS, fromDeg: angleDeg, toDeg };
    timeS += durationS;
    angleDeg = toDeg;
    return move;
  });
  const [durationS, endDeg] = [timeS, angleDeg];
  return {
    durationS,
    valueAt(atS) {
      if (atS <= 0) return startDeg;
      const move = moves.find(({ startS, durationS: lasts }) => atS < startS + lasts);
      if (move === undefined) return endDeg;
      const share = minimumJerk((atS - move.startS) / move.durationS);
      return move.fromDeg + (move.toDeg - move.fromDeg) * share;
    },
  };
}

/** A repetition as planned: from the onset of bending to the end of lowering. */
export interface PlannedRepetition {
  readonly startS: number;
  readonly endS: number;
  /** Duration of the lowering from its onset to its end. */
  readonly lowerS: number;
  readonly partial: boolean;
  readonly shoulderDominant: boolean;
  /** Shoulder extensors' share of the work of lifting, 0 to 1; only where it was worked out. */
  readonly shoulderWorkShare?: number;
}

export interface RepetitionPlan {
  readonly count: number;
  readonly lowDeg: number;
  readonly highDeg: number;
  /** Rest before the first repetition. */
  readonly leadInS: number;
  readonly leadOutS: number;
  /** Duration of lifting; 1.1 to 1.8 s where left out. */
  readonly liftS?: readonly [number, number];
  readonly lowerS: readonly [number, number];
  readonly shoulderDominant: boolean;
  /** Which repetition (from 0) stops about half way up. */
  readonly partialIndex?: number;
}

/** Steps and events of a set: lifting, short pauses, slow lowering, all a little different each time. */
export function planRepetitions(
  random: SeededRandom,
  plan: RepetitionPlan,
): { steps: ScriptStep[]; repetitions: PlannedRepetition[] } {
  const steps: ScriptStep[] = [{ toDeg: plan.lowDeg, durationS: plan.leadInS }];
  const repetitions: PlannedRepetition[] = [];
  const [liftLowS, liftHighS] = plan.liftS ?? [1.1, 1.8];
  let timeS = plan.leadInS;
  for (let index = 0; index < plan.count; index++) {
    const partial = index === plan.partialIndex;
    const rangeDeg = (plan.highDeg - plan.lowDeg) * (partial ? 0.5 : 1);
    const topDeg = plan.lowDeg + rangeDeg + random.between(-3, 2);
    const bottomDeg = plan.lowDeg + random.between(-2, 3);
    const liftS = random.between(liftLowS, liftHighS);
    const topPauseS = random.between(0.3, 0.6);
    const lowerS = random.between(plan.lowerS[0], plan.lowerS[1]);
    const bottomPauseS = index === plan.count - 1 ? plan.leadOutS : random.between(0.5, 0.9);
    steps.push({ toDeg: topDeg, durationS: liftS }, { toDeg: topDeg, durationS: topPauseS });
    steps.push({ toDeg: bottomDeg, durationS: lowerS }, { toDeg: bottomDeg, durationS: bottomPauseS });
    const endS = timeS + liftS + topPauseS + lowerS;
    repetitions.push({ startS: timeS, endS, lowerS, partial, shoulderDominant: plan.shoulderDominant });
    timeS = endS + bottomPauseS;
  }
  return { steps, repetitions };
}
