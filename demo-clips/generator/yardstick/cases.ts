import { CAMERA } from '../clip-defaults.ts';
import { createScenario, type ClipOutline, type Exercise } from '../scenario.ts';
import { createRandom, shuffledOrder, type SeededRandom } from '../seeded-random.ts';
import type { BodyOutline, Side } from '../body.ts';
import { drawBody } from './bodies.ts';
import { drawTimes } from './drawn-times.ts';
import { drawCamera, placesToShow, type View } from './framing.ts';
import {
  drawBodyCurl,
  drawHold,
  drawPullOfShare,
  drawStandingCurl,
  type DrawnMovement,
} from './movements.ts';
import { drawRoom } from './rooms.ts';

/** Constants are set on the developing set only; the proof set says what they are worth on people never seen. */
export type YardstickSet = 'developing' | 'proof';

/** One random person in one random room before one random camera: a set of an exercise with known joint angles. */
export interface YardstickCase {
  /** Batch, exercise, yaw band and number within its cell: 'proof-body-curl-30-04'. */
  readonly id: string;
  readonly set: YardstickSet;
  readonly exercise: Exercise;
  readonly yawBandDeg: (typeof YAW_BANDS_DEG)[number];
  /** Everything follows from it and its seed, as for a demo clip. */
  readonly outline: ClipOutline;
  /** Moments at which pictures are drawn, in seconds, each at a frame of the clip. */
  readonly drawnTimesSeconds: readonly number[];
}

const YAW_BANDS_DEG = [0, 15, 30, 45, 60] as const;
/** A case's yaw is within this of its band's. */
const YAW_SPREAD_DEG = 6;
const MOVEMENTS = ['standing', 'hold', 'body-curl'] as const;
type Movement = (typeof MOVEMENTS)[number];

/** Cases drawn together. */
interface Batch {
  /** First word of its cases' ids. */
  readonly name: string;
  /** Its seeds follow on this one; the batches' ranges are far apart, so no body, room or camera is in two. */
  readonly firstSeed: number;
  readonly casesPerCell: number;
}

/** A proof set whose figures have been seen proves nothing any more: it joins those to develop on, and fresh seeds follow. */
const BATCHES: Readonly<Record<YardstickSet, readonly Batch[]>> = {
  developing: [
    { name: 'developing', firstSeed: 1_000_000, casesPerCell: 5 },
    { name: 'seen', firstSeed: 5_000_000, casesPerCell: 8 },
  ],
  proof: [{ name: 'proof', firstSeed: 9_000_000, casesPerCell: 8 }],
};

/**
 * Over these first seeds the pulls of a cell were spread evenly over the mixture of curl and row in their movements, which
 * leaves the shoulder either no work or nearly all. Over all others they are spread evenly over its share of the work.
 */
const SPREAD_BY_MIXTURE: ReadonlySet<number> = new Set([1_000_000, 5_000_000]);

/**
 * All cases of a set: for each movement (standing curl with a dumbbell or a band by turns, hold, body-moving curl) and
 * each yaw band the same number, with both body sides and both signs of the yaw by turns. Always the same.
 */
export function yardstickCases(set: YardstickSet): readonly YardstickCase[] {
  return BATCHES[set].flatMap((batch) => batchCases(set, batch));
}

/** Pulls for developing of which no pictures are drawn, with seeds apart from all others: so many in each yaw band. */
export function imaginedPulls(casesPerCell: number): readonly YardstickCase[] {
  return batchCases('developing', { name: 'imagined', firstSeed: 3_000_000, casesPerCell }, ['body-curl']);
}

function batchCases(
  set: YardstickSet,
  { name, firstSeed, casesPerCell }: Batch,
  movements: readonly Movement[] = MOVEMENTS,
): YardstickCase[] {
  return movements.flatMap((movement) =>
    YAW_BANDS_DEG.flatMap((yawBandDeg, bandIndex) => {
      const cellSeed = firstSeed + 1000 * (MOVEMENTS.indexOf(movement) * YAW_BANDS_DEG.length + bandIndex);
      const cell = createRandom(cellSeed);
      const portraits = shuffledOrder(casesPerCell, cell.fork('portraits'));
      const mixtures = shuffledOrder(casesPerCell, cell.fork('mixtures'));
      return Array.from({ length: casesPerCell }, (_, index) =>
        createCase({
          set,
          batch: name,
          seed: cellSeed + 1 + index,
          number: index + 1,
          exercise: exerciseOf(movement, index, bandIndex),
          yawBandDeg,
          side: index % 2 === 0 ? 'right' : 'left',
          towardsFront: index % 4 < 2,
          isPortrait: ((portraits[index] ?? 0) + bandIndex) % 2 === 1,
          pullsBy: SPREAD_BY_MIXTURE.has(firstSeed) ? 'mixture' : 'work-share',
          pull: { place: mixtures[index] ?? 0, of: casesPerCell },
        }),
      );
    }),
  );
}

/** Standing curls by turns, so that each exercise meets each side and each sign of the yaw over the bands. */
function exerciseOf(movement: Movement, index: number, bandIndex: number): Exercise {
  if (movement !== 'standing') return movement;
  return (index + Math.floor(index / 2) + bandIndex) % 2 === 0 ? 'free-curl' : 'band-curl';
}

interface Cell {
  readonly set: YardstickSet;
  readonly batch: string;
  readonly seed: number;
  readonly number: number;
  readonly exercise: Exercise;
  readonly yawBandDeg: (typeof YAW_BANDS_DEG)[number];
  readonly side: Side;
  readonly towardsFront: boolean;
  readonly isPortrait: boolean;
  readonly pullsBy: 'mixture' | 'work-share';
  /** Where the case stands among those of its cell in order from curl to row, from 0. */
  readonly pull: { readonly place: number; readonly of: number };
}

function createCase(cell: Cell): YardstickCase {
  const { set, seed, exercise, yawBandDeg, side } = cell;
  const random = createRandom(seed).fork('case');
  const turnDeg = yawBandDeg + random.fork('yaw').between(-YAW_SPREAD_DEG, YAW_SPREAD_DEG);
  const yawDeg = cell.towardsFront ? turnDeg : -turnDeg;
  const room = drawRoom(random.fork('room'), side, yawDeg);
  const body = drawBody(random.fork('body'), room.wall);
  const movement = drawMovement(random.fork('movement'), cell, body);
  const number = cell.number.toString().padStart(2, '0');
  const id = `${cell.batch}-${exercise}-${yawBandDeg.toString().padStart(2, '0')}-${number}`;
  const unfilmed: ClipOutline = {
    name: id,
    seed,
    shows: `A random case of the yardstick: ${exercise}, camera ${yawDeg.toFixed(0)} deg off square.`,
    exercise,
    side,
    fps: 30,
    camera: CAMERA,
    room,
    people: [{ body, perform: movement.perform }],
  };
  const scenario = createScenario(unfilmed);
  const [widthPx, heightPx] = cell.isPortrait ? [480, 640] : [640, 480];
  const view: View = { facingSide: side, yawDeg, widthPx, heightPx };
  const camera = drawCamera(random.fork('camera'), view, placesToShow(scenario));
  const drawnTimesSeconds = drawTimes(random.fork('times'), scenario, movement);
  return { id, set, exercise, yawBandDeg, outline: { ...unfilmed, camera }, drawnTimesSeconds };
}

function drawMovement(random: SeededRandom, cell: Cell, body: BodyOutline): DrawnMovement {
  const { exercise, side } = cell;
  if (exercise === 'hold') return drawHold(random, body);
  if (exercise === 'body-curl') return drawPull(random, cell, body);
  return drawStandingCurl(random, body, exercise, side);
}

function drawPull(random: SeededRandom, { pullsBy, pull }: Cell, body: BodyOutline): DrawnMovement {
  const off = random.fork('mixture').between(-0.08, 0.08);
  const within = (value: number): number => Math.min(1, Math.max(0, value));
  if (pullsBy === 'mixture') return drawBodyCurl(random, body, within(pull.place / (pull.of - 1) + off));
  // The first of a cell leaves the shoulder no work, as most curls do; the others spread from none to all.
  return drawPullOfShare(
    random,
    body,
    pull.place === 0 ? -1 : within((pull.place - 1) / (pull.of - 2) + off),
  );
}
