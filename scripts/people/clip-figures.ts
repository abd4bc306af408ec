import { measureSet } from '../../src/core/kinematics/measure-set.ts';
import type { KinematicFrame } from '../../src/core/kinematics/kinematic-frame.ts';
import { isMeasured, valueOf } from '../../src/core/kinematics/measured.ts';
import { median } from '../../src/core/math/statistics.ts';
import { FRESH_GATE, stepGate, type GatedPose } from '../../src/core/pose/gate.ts';
import type { Side } from '../../src/core/pose/landmark.ts';
import type { PoseFrame } from '../../src/core/pose/pose-frame.ts';
import { believedArms, constancyOf } from './arm-lengths.ts';
import { asFound, asSettled, labelExchanges } from './label-exchanges.ts';

/** What can be said of one arm in a clip without knowing its true angles. */
export interface ArmFigures {
  readonly side: Side;
  readonly series: readonly KinematicFrame[];
  /** Share of the pictures with an elbow angle, and the commonest reason of the others. */
  readonly measuredShare: number;
  readonly commonestReason: string | null;
  /** Least and largest elbow angle, degrees. */
  readonly rangeDeg: readonly [number, number] | null;
  readonly medianHalfWidthDeg: number | null;
  /** Median of how far an angle lies off the middle of its neighbours', degrees, and how many lie further than JUMP_DEG. */
  readonly roughnessDeg: number | null;
  readonly jumps: number;
  readonly lengths: ReturnType<typeof constancyOf>;
  /** Times of the pictures that stand out: rough, or with lengths far from the usual; the worst first. */
  readonly worstSeconds: readonly number[];
}

/** What can be said of a clip. */
export interface ClipFigures {
  readonly pictures: number;
  readonly exchangesFound: number;
  readonly exchangesLeft: number;
  /** The left arm, then the right. */
  readonly arms: readonly [ArmFigures, ArmFigures];
}

/** An angle so far off the middle of its neighbours' is a jump, degrees. */
const JUMP_DEG = 25;
/** Neighbours further apart are none, seconds. */
const NEIGHBOUR_SECONDS = 0.3;

/** The figures of both arms from one run of the network. */
export function clipFigures(frames: readonly PoseFrame[]): ClipFigures {
  const gated = gateAll(frames, 'left');
  const settled = frames.map(({ timeSeconds }, i) => {
    const gate = gated[i];
    const isBelieved =
      gate !== undefined && (gate.reason === null || gate.armOnly || gate.reason === 'wrong-side');
    return isBelieved ? asSettled(gate.pose, timeSeconds) : null;
  });
  return {
    pictures: frames.length,
    exchangesFound: labelExchanges(frames.map(asFound)),
    exchangesLeft: labelExchanges(settled),
    arms: [armFigures(frames, 'left'), armFigures(frames, 'right')],
  };
}

function gateAll(frames: readonly PoseFrame[], side: Side): GatedPose[] {
  let state = FRESH_GATE;
  return frames.map((frame) => {
    const next = stepGate(state, frame, side);
    state = next.state;
    return next.gated;
  });
}

function armFigures(frames: readonly PoseFrame[], side: Side): ArmFigures {
  const series = measureSet(frames, { side, statureCm: null }).frames;
  const gated = gateAll(frames, side);
  const elbows = series.flatMap(({ elbowFlexionDeg }) =>
    isMeasured(elbowFlexionDeg) ? [elbowFlexionDeg] : [],
  );
  const roughness = series.map((_, i) => offNeighboursDeg(series, i));
  const rough = roughness.filter((deg) => deg !== null);
  return {
    side,
    series,
    measuredShare: elbows.length / Math.max(1, series.length),
    commonestReason: commonest(series.flatMap(({ reason }) => reason ?? [])),
    rangeDeg:
      elbows.length === 0
        ? null
        : [Math.min(...elbows.map(({ value }) => value)), Math.max(...elbows.map(({ value }) => value))],
    medianHalfWidthDeg: median(elbows.map(({ low, high }) => (high - low) / 2)),
    roughnessDeg: median(rough),
    jumps: rough.filter((deg) => deg > JUMP_DEG).length,
    lengths: constancyOf(believedArms(frames, gated), frames, gated),
    worstSeconds: series
      .map(({ timeSeconds }, i) => ({ timeSeconds, deg: roughness[i] ?? -1 }))
      .filter(({ deg }) => deg >= 0)
      .sort((a, b) => b.deg - a.deg)
      .map(({ timeSeconds }) => timeSeconds),
  };
}

/** How far an elbow angle lies off the middle of its neighbours', degrees; null where one of the three is missing. */
function offNeighboursDeg(series: readonly KinematicFrame[], i: number): number | null {
  const [before, own, after] = [series[i - 1], series[i], series[i + 1]];
  if (!before || !own || !after || after.timeSeconds - before.timeSeconds > 2 * NEIGHBOUR_SECONDS)
    return null;
  const [a, b, c] = [before, own, after].map(({ elbowFlexionDeg }) => valueOf(elbowFlexionDeg));
  return typeof a === 'number' && typeof b === 'number' && typeof c === 'number'
    ? Math.abs(b - (a + c) / 2)
    : null;
}

function commonest(words: readonly string[]): string | null {
  const counts = new Map<string, number>();
  for (const word of words) counts.set(word, (counts.get(word) ?? 0) + 1);
  return [...counts].sort((a, b) => b[1] - a[1])[0]?.[0] ?? null;
}
