import { firstAtOrAfter } from '../signal/first-at-or-after.ts';
import type { FlexionSample } from './flexion-trace.ts';
import { fitPhases, type PhaseMarks, type ShapeFits } from './phase-fit.ts';
import type { FitPoint, Neighbour } from './phase-model.ts';
import type { RepetitionTurns } from './repetition-turns.ts';

/** No more rest than this on either side is looked at: longer holds other things than the repetition. */
const MOST_REST_SECONDS = 3;

/**
 * Fits of one repetition's phases, null with too few samples. The window runs from half way of the lowering before to
 * half way of the bending after, so that both plateaus are in it whole, wherever in them noise put the turning point.
 * @param samples - the set's samples in order, at least those of the repetition's surroundings
 * @param mostBins - how finely, one of MOST_BINS
 */
export function fitRepetition(
  samples: readonly FlexionSample[],
  turns: RepetitionTurns,
  mostBins: number,
): ShapeFits | null {
  const { start, top, end, topBefore, topAfter, stretch } = turns;
  const at = (from: number, to: number): FitPoint[] => pointsBetween(samples, from, to);
  const rising = at(start.timeSeconds, top.timeSeconds);
  const falling = at(top.timeSeconds, end.timeSeconds);
  const quarter = (points: readonly FitPoint[], from: number, to: number, share: number): number =>
    crossing(points, from + share * (to - from), to > from);
  const guess = guessedMarks(
    [start.timeSeconds, quarter(rising, start.flexionDeg, top.flexionDeg, 0.25)],
    [quarter(rising, start.flexionDeg, top.flexionDeg, 0.75), top.timeSeconds],
    [top.timeSeconds, quarter(falling, top.flexionDeg, end.flexionDeg, 0.25)],
    [quarter(falling, top.flexionDeg, end.flexionDeg, 0.75), end.timeSeconds],
  );
  const midBefore = topBefore
    ? crossing(
        at(topBefore.timeSeconds, start.timeSeconds),
        (topBefore.flexionDeg + start.flexionDeg) / 2,
        false,
      )
    : null;
  const midAfter = topAfter
    ? crossing(at(end.timeSeconds, topAfter.timeSeconds), (topAfter.flexionDeg + end.flexionDeg) / 2, true)
    : null;
  const from = Math.max(midBefore ?? stretch.startSeconds, guess.bendingStartSeconds - MOST_REST_SECONDS);
  const to = Math.min(midAfter ?? stretch.endSeconds, guess.loweringEndSeconds + MOST_REST_SECONDS);
  const before: Neighbour | null =
    topBefore && midBefore === from ? { midSeconds: midBefore, farDeg: topBefore.flexionDeg } : null;
  const after: Neighbour | null =
    topAfter && midAfter === to ? { midSeconds: midAfter, farDeg: topAfter.flexionDeg } : null;
  return fitPhases({ points: at(from, to), guess, before, after }, mostBins);
}

/** Times between which each mark lies: first guesses from the quarters of the range, carried on in a straight line. */
function guessedMarks(
  [start, q1]: readonly [number, number],
  [q3, topBefore]: readonly [number, number],
  [topAfter, r1]: readonly [number, number],
  [r3, end]: readonly [number, number],
): PhaseMarks {
  const bend = Math.max(0.05, q3 - q1);
  const lower = Math.max(0.05, r3 - r1);
  return {
    bendingStartSeconds: Math.max(start, q1 - 0.8 * bend),
    topStartSeconds: Math.min(topBefore, q3 + 0.8 * bend),
    loweringStartSeconds: Math.max(topAfter, r1 - 0.8 * lower),
    loweringEndSeconds: Math.min(end, r3 + 0.8 * lower),
  };
}

function pointsBetween(samples: readonly FlexionSample[], from: number, to: number): FitPoint[] {
  return samples
    .slice(firstAtOrAfter(samples, from), firstAtOrAfter(samples, to + 1e-9))
    .map(({ timeSeconds, flexionDeg }) => ({ timeSeconds, flexionDeg }));
}

/** Middle of the first and the last crossing of a level, which noise shifts in opposite ways. */
function crossing(points: readonly FitPoint[], levelDeg: number, rising: boolean): number {
  const beyond = ({ flexionDeg }: FitPoint): boolean =>
    rising ? flexionDeg >= levelDeg : flexionDeg <= levelDeg;
  const first = points.find(beyond) ?? points.at(-1);
  const last = points.findLast((point) => !beyond(point)) ?? points[0];
  return ((first?.timeSeconds ?? 0) + (last?.timeSeconds ?? 0)) / 2;
}
