import { median } from '../math/statistics.ts';
import type { Thresholds } from './thresholds.ts';
import {
  prunedTurns,
  turnsOf,
  type Stretch,
  type TurningPoint,
  type TurningState,
} from './turning-points.ts';

/** The three turns of a repetition: where bending starts, the top, where lowering ends; and its surroundings. */
export interface RepetitionTurns {
  readonly start: TurningPoint;
  readonly top: TurningPoint;
  readonly end: TurningPoint;
  /** Tops of the movements before and after in the same stretch, or null. */
  readonly topBefore: TurningPoint | null;
  readonly topAfter: TurningPoint | null;
  readonly stretch: Stretch;
  /** Range by which it is told whether it is partial: of the way that was seen whole. */
  readonly rangeDeg: number;
  readonly partial: boolean;
}

/** The repetitions of a set by their turns, and the ends that are usual in it. */
export interface SetTurns {
  readonly repetitions: readonly RepetitionTurns[];
  /** Ends against which repetitions are compared: the planned ones, else the usual ones. Null without repetitions. */
  readonly askedStartDeg: number | null;
  readonly askedTopDeg: number | null;
}

/** The repetitions of a set in which nothing has been seen. */
export const NO_REPETITIONS: SetTurns = { repetitions: [], askedStartDeg: null, askedTopDeg: null };

/** A swing there and back that is quicker than this each way is shaking even above the smallest range. */
const SHAKING_SWING_SECONDS = 0.2;
/** From so many ranges on, one that stands alone (a set-up move) does not set the usual range. */
const ENOUGH_RANGES = 4;
/** The largest range stands alone when the next is smaller, but not so small that it is only shaking beside it. */
const NEXT_RANGE_SHARE = 0.5;
/** A resting arm at an open end moves less than this share of the usual range in a second. */
const RESTING_SHARE_PER_SECOND = 0.15;

/**
 * Repetitions from turning points: bending, then lowering. The size from which a swing counts follows the person's own
 * range: a first cut at smallestRangeDeg shows the ranges, their usual value gives the next cut at smallestRangeShare
 * of it, until it holds still.
 *
 * - The usual range is the median of the ranges that are not partial against the largest (against the second largest
 *   from four on, when the largest stands alone), so that neither partials nor one set-up move shift it.
 * - Half a repetition at an end of the set, or at a gap too long to bridge, is not counted: at an open start the arm
 *   must rest or be near the usual start, at an open end it must have come back.
 * - A turn that lies in a gap of at most gapInRepetitionSeconds leaves the repetition counted only where what was seen
 *   already makes it a full one; whether it was partial or full could not be told else.
 */
export function segmentRepetitions(state: TurningState, thresholds: Thresholds): SetTurns {
  const { turns, rangeDeg } = adaptedCut(state, thresholds);
  const planned = plannedRange(thresholds);
  const triples = state.flatMap((stretch, i) => triplesOf(stretch, turns[i] ?? []));
  const startsDeg: number[] = [];
  const topsDeg: number[] = [];
  for (const { start, top } of triples) {
    const isFull = top.flexionDeg - start.flexionDeg >= thresholds.partialShare * rangeDeg;
    const isSeen = !top.open && start.gapSeconds + top.gapSeconds === 0;
    if (!isFull || !isSeen || (start.open && !isResting(start, rangeDeg))) continue;
    startsDeg.push(start.flexionDeg);
    topsDeg.push(top.flexionDeg);
  }
  const usualStart = median(startsDeg);
  const usualTop = median(topsDeg);
  const asked = planned ?? rangeDeg;
  const repetitions: RepetitionTurns[] = [];
  for (const triple of triples) {
    const seen = judgeEnds(triple, rangeDeg, usualStart, thresholds);
    if (seen === null) continue;
    const { start, top, end, topBefore, topAfter, stretch } = triple;
    const partial = seen < thresholds.partialShare * asked;
    repetitions.push({ start, top, end, topBefore, topAfter, stretch, rangeDeg: seen, partial });
  }
  return {
    repetitions,
    askedStartDeg: thresholds.plannedStartFlexionDeg ?? usualStart,
    askedTopDeg: thresholds.plannedTopFlexionDeg ?? usualTop,
  };
}

/** Levels of a repetition as fitted, degrees. */
export interface FittedLevels {
  readonly startDeg: number;
  readonly topDeg: number;
}

/**
 * The same repetitions with their ranges, and the usual ends, from the fitted levels: turning points are the furthest
 * samples, so noise makes every range look longer, small ones the most. Levels go with the repetitions in order; null
 * keeps what the turns say, as does a turn in a gap.
 */
export function withFittedLevels(
  setTurns: SetTurns,
  levels: readonly (FittedLevels | null)[],
  thresholds: Thresholds,
): SetTurns {
  const ranged = setTurns.repetitions.map((repetition, i) => {
    const level = levels[i];
    const isSeen = repetition.start.gapSeconds + repetition.top.gapSeconds === 0;
    const bent = level ? level.topDeg - level.startDeg : null;
    const startSeen =
      bent !== null && repetition.rangeDeg <= repetition.top.flexionDeg - repetition.start.flexionDeg;
    return { repetition, level, rangeDeg: bent !== null && isSeen && startSeen ? bent : repetition.rangeDeg };
  });
  const usual = usualRange(
    ranged.map(({ rangeDeg }) => rangeDeg),
    thresholds.partialShare,
  );
  const asked = plannedRange(thresholds) ?? usual;
  const repetitions = ranged.map(({ repetition, rangeDeg }) => ({
    ...repetition,
    rangeDeg,
    partial: rangeDeg < thresholds.partialShare * asked,
  }));
  const full = ranged.flatMap(({ level, rangeDeg }) =>
    level && rangeDeg >= thresholds.partialShare * usual ? [level] : [],
  );
  return {
    repetitions,
    askedStartDeg:
      thresholds.plannedStartFlexionDeg ??
      median(full.map((level) => level.startDeg)) ??
      setTurns.askedStartDeg,
    askedTopDeg:
      thresholds.plannedTopFlexionDeg ?? median(full.map((level) => level.topDeg)) ?? setTurns.askedTopDeg,
  };
}

type Triple = Omit<RepetitionTurns, 'rangeDeg' | 'partial'>;

function plannedRange({ plannedStartFlexionDeg, plannedTopFlexionDeg }: Thresholds): number | null {
  if (plannedStartFlexionDeg === null || plannedTopFlexionDeg === null) return null;
  return plannedTopFlexionDeg - plannedStartFlexionDeg;
}

/** The turns of each stretch between swings that count, and the usual range of bending. */
function adaptedCut(
  state: TurningState,
  thresholds: Thresholds,
): { readonly turns: readonly (readonly TurningPoint[])[]; readonly rangeDeg: number } {
  const all = state.map(turnsOf);
  let cut = thresholds.smallestRangeDeg;
  for (;;) {
    const turns = all.map((list) => prunedTurns(list, cut, SHAKING_SWING_SECONDS));
    const rangeDeg = usualRange(turns.flatMap(bendingRanges), thresholds.partialShare);
    const next = Math.max(cut, thresholds.smallestRangeShare * rangeDeg);
    if (next <= cut) return { turns, rangeDeg };
    cut = next;
  }
}

function bendingRanges(turns: readonly TurningPoint[]): number[] {
  const ranges: number[] = [];
  let before: TurningPoint | null = null;
  for (const turn of turns) {
    if (turn.kind === 'top' && before !== null) ranges.push(turn.flexionDeg - before.flexionDeg);
    before = turn;
  }
  return ranges;
}

function usualRange(ranges: readonly number[], partialShare: number): number {
  const { largest, second } = twoLargest(ranges);
  const standsAlone = ranges.length >= ENOUGH_RANGES && second >= NEXT_RANGE_SHARE * largest;
  const measure = standsAlone ? second : largest;
  return median(ranges.filter((range) => range >= partialShare * measure)) ?? 0;
}

/** The largest value and the next one, which may be as large; 0 where there is none. */
function twoLargest(values: readonly number[]): { readonly largest: number; readonly second: number } {
  let largest = -Infinity;
  let second = -Infinity;
  for (const value of values) {
    if (value > largest) [largest, second] = [value, largest];
    else if (value > second) second = value;
  }
  return { largest: values.length > 0 ? largest : 0, second: values.length > 1 ? second : 0 };
}

function triplesOf(stretch: Stretch, turns: readonly TurningPoint[]): Triple[] {
  const triples: Triple[] = [];
  for (let i = 1; i + 1 < turns.length; i++) {
    const [start, top, end] = [turns[i - 1], turns[i], turns[i + 1]];
    if (!start || !top || !end || top.kind !== 'top') continue;
    const [topBefore, topAfter] = [turns[i - 2] ?? null, turns[i + 2] ?? null];
    triples.push({ start, top, end, topBefore, topAfter, stretch });
  }
  return triples;
}

function isResting(turn: TurningPoint, rangeDeg: number): boolean {
  return Math.abs(turn.speedDegPerS) <= RESTING_SHARE_PER_SECOND * rangeDeg;
}

/** The range of a repetition whose ends are sure enough to count it, or null. */
function judgeEnds(
  { start, top, end }: Triple,
  rangeDeg: number,
  usualStart: number | null,
  thresholds: Thresholds,
): number | null {
  const bent = top.flexionDeg - start.flexionDeg;
  const lowered = top.flexionDeg - end.flexionDeg;
  if (end.timeSeconds - start.timeSeconds < thresholds.shortestRepetitionSeconds) return null;
  const nearStart = (flexionDeg: number): boolean =>
    usualStart !== null && flexionDeg - usualStart <= thresholds.smallestRangeShare * rangeDeg;
  const startSeen = !start.open || isResting(start, rangeDeg) || nearStart(start.flexionDeg);
  const endSeen = !end.open || lowered >= thresholds.partialShare * bent || nearStart(end.flexionDeg);
  if (!endSeen) return null;
  const full = thresholds.partialShare * rangeDeg;
  if (top.gapSeconds > 0 && Math.min(bent, lowered) < full) return null;
  if (startSeen && start.gapSeconds === 0) return bent;
  const seen = Math.max(bent, lowered);
  return seen >= full ? seen : null;
}
