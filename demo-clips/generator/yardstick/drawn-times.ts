import type { Scenario } from '../scenario.ts';
import type { SeededRandom } from '../seeded-random.ts';
import type { DrawnMovement, Stretch } from './movements.ts';

/** Pictures of a case; of a hold, so many are of the unloaded bends before it. */
const PICTURES = 14;
const PICTURES_OF_BENDS = 9;
/** A movement serves a wanted angle when it comes this near to it. */
const NEAR_DEG = 3;

/**
 * Moments of a case's pictures, in seconds at frames of the clip, in order. Wanted angles are spread evenly over the
 * range of true elbow flexion; each is looked for in a movement, upward or downward, chosen by chance. The pictures of a
 * hold on the bar are spread evenly over its time.
 */
export function drawTimes(random: SeededRandom, scenario: Scenario, movement: DrawnMovement): number[] {
  const { fps, exercise } = scenario.outline;
  const taken = new Set<number>();
  const { holdS } = movement;
  const repetitions = scenario.people[0].performance.repetitions.flatMap(
    ({ startS, endS, lowerS }): Stretch[] => [
      [startS, endS - lowerS],
      [endS - lowerS, endS],
    ],
  );
  const moves = exercise === 'hold' ? movement.unloadedS : repetitions;
  const overAngles = holdS === null ? PICTURES : PICTURES_OF_BENDS;
  takeOverAngles(random, scenario, moves, overAngles, taken);
  if (holdS !== null) takeOverTime(random, holdS, fps, PICTURES - overAngles, taken);
  return [...taken].sort((a, b) => a - b).map((frame) => frame / fps);
}

interface Candidate {
  readonly frame: number;
  readonly offDeg: number;
}

function takeOverAngles(
  random: SeededRandom,
  scenario: Scenario,
  moves: readonly Stretch[],
  count: number,
  taken: Set<number>,
): void {
  const { fps, side } = scenario.outline;
  const [{ performance }] = scenario.people;
  const flexionAt = (frame: number): number =>
    performance.postureAt(frame / fps)?.arms[side].elbowFlexionDeg ?? NaN;
  const courses = moves.map(([fromS, toS]) => {
    const frames: { frame: number; flexionDeg: number }[] = [];
    for (let frame = Math.ceil(fromS * fps); frame <= Math.floor(toS * fps); frame++)
      frames.push({ frame, flexionDeg: flexionAt(frame) });
    return frames;
  });
  const all = courses.flat().map(({ flexionDeg }) => flexionDeg);
  const [low, high] = [Math.min(...all), Math.max(...all)];
  for (let index = 0; index < count; index++) {
    const wantedDeg = low + ((high - low) * (index + random.between(0.15, 0.85))) / count;
    const candidates = courses.flatMap((course): Candidate[] => {
      const free = course.filter(({ frame }) => !taken.has(frame));
      const offs = free.map(({ frame, flexionDeg }) => ({ frame, offDeg: Math.abs(flexionDeg - wantedDeg) }));
      return offs.length === 0 ? [] : [offs.reduce(nearer)];
    });
    const [first, ...others] = candidates.filter(({ offDeg }) => offDeg <= NEAR_DEG);
    const chosen = first === undefined ? candidates.reduce(nearer) : random.pick([first, ...others]);
    taken.add(chosen.frame);
  }
}

const nearer = (a: Candidate, b: Candidate): Candidate => (b.offDeg < a.offDeg ? b : a);

function takeOverTime(
  random: SeededRandom,
  [fromS, toS]: Stretch,
  fps: number,
  count: number,
  taken: Set<number>,
): void {
  for (let index = 0; index < count; index++) {
    const share = (index + random.between(0.15, 0.85)) / count;
    taken.add(Math.round((fromS + (toS - fromS) * share) * fps));
  }
}
