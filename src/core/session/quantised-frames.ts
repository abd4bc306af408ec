import { z } from 'zod';
import { LANDMARK_NAMES } from '../pose/landmark.ts';
import type { ImageLandmark, Pose, PoseFrame, WorldLandmark } from '../pose/pose-frame.ts';
import {
  at,
  ColumnReader,
  fromRuns,
  runLength,
  toDifferences,
  toRuns,
  toValues,
  whole,
} from './column-coding.ts';

/*
 * Landmarks as whole numbers, one column per coordinate, each column as its first value and then the differences.
 * The steps are far below the network's own scatter (about a pixel, about a centimetre): 0.1 px, 1 mm, 0.1 ms.
 * Differences need about 40 % fewer characters than the values themselves.
 */

const STEPS_PER_SECOND = 10_000;
const STEPS_PER_PX = 10;
const STEPS_OF_VISIBILITY = 100;
const STEPS_PER_METRE = 1000;

const differences = z.array(z.int());

/** Runs of equal values: how many frames in a row, and their value. */
const runsOf = <Value extends z.ZodType>(value: Value) => z.array(z.tuple([z.int().min(1), value]));

const landmarkColumnsSchema = z.strictObject({
  xTenthPx: differences,
  yTenthPx: differences,
  visibilityPercent: differences,
  worldXMm: differences,
  worldYMm: differences,
  worldZMm: differences,
});
export type LandmarkColumns = z.infer<typeof landmarkColumnsSchema>;

const seriesColumnsSchema = z.strictObject({
  frameCount: z.int().min(0),
  timeTenthMs: differences.describe(
    'Time of each frame in the clock of the source, 0.1 ms: the first, then the differences.',
  ),
  pictureSizePx: runsOf(z.tuple([z.int().min(1), z.int().min(1)])).describe('Runs of [width, height].'),
  people: runsOf(z.int().min(0).nullable()).describe(
    'Runs of the number of people the person finder saw; null when it had not looked.',
  ),
  brightness: runsOf(z.int().min(0).max(255).nullable()).describe(
    'Runs of the mean brightness, 0 to 255; null when not looked at.',
  ),
  posed: runsOf(z.boolean()).describe(
    'Runs of whether somebody was found. Landmark columns have entries for these frames only.',
  ),
  landmarks: z
    .record(z.enum(LANDMARK_NAMES), landmarkColumnsSchema)
    .describe('Each column: its first value, then the differences from frame to frame.'),
});

/** A series of frames as it is stored. */
export type FrameSeries = z.infer<typeof seriesColumnsSchema>;

/** What is stored of a series of frames: no picture, only times, landmarks and what was known of each picture. */
export const frameSeriesSchema = seriesColumnsSchema.superRefine((series, context) => {
  const problem = inconsistency(series);
  if (problem !== null) context.addIssue({ code: 'custom', message: problem });
});

/**
 * Frames to whole numbers. A pose with a coordinate that is not a number, or without its 33 landmarks, is stored as
 * nobody found: nothing could be measured from it. Throws when time does not rise.
 */
export function encodeFrames(frames: readonly PoseFrame[]): FrameSeries {
  const poses = frames.map((frame) => storablePose(frame.pose));
  const found = poses.filter((pose) => pose !== null);
  const landmarks = Object.fromEntries(
    LANDMARK_NAMES.map((name, index) => [name, landmarkColumns(found, index)]),
  );
  return {
    frameCount: frames.length,
    timeTenthMs: risingTimes(frames),
    pictureSizePx: toRuns(frames.map(({ widthPx, heightPx }): [number, number] => [widthPx, heightPx])),
    people: toRuns(frames.map(({ people }) => people)),
    brightness: toRuns(frames.map(({ brightness }) => brightness).map(wholeOrNull)),
    posed: toRuns(poses.map((pose) => pose !== null)),
    // Every name of LANDMARK_NAMES is a key, which Object.fromEntries cannot say in its type.
    landmarks: landmarks as FrameSeries['landmarks'],
  };
}

/** The frames of a stored series. Encoding them again gives the same whole numbers. */
export function decodeFrames(series: FrameSeries): PoseFrame[] {
  const times = toValues(series.timeTenthMs);
  const sizes = fromRuns(series.pictureSizePx);
  const people = fromRuns(series.people);
  const brightness = fromRuns(series.brightness);
  const poses = decodePoses(series);
  let next = 0;
  return fromRuns(series.posed).map((posed, index): PoseFrame => {
    const [widthPx, heightPx] = at(sizes, index);
    return {
      timeSeconds: at(times, index) / STEPS_PER_SECOND,
      widthPx,
      heightPx,
      pose: posed ? at(poses, next++) : null,
      people: at(people, index),
      brightness: at(brightness, index),
    };
  });
}

/** The frames with the precision of the record. Everything that is judged for the record is judged on these. */
export function asStored(frames: readonly PoseFrame[]): PoseFrame[] {
  return decodeFrames(encodeFrames(frames));
}

/** Seconds from the first frame of the first piece to the last frame of the last; 0 without frames. */
export function secondsAcross(pieces: readonly FrameSeries[]): number {
  const filled = pieces.filter(({ frameCount }) => frameCount > 0);
  const first = filled[0]?.timeTenthMs[0] ?? 0;
  const last = toValues(filled.at(-1)?.timeTenthMs ?? []).at(-1) ?? first;
  return (last - first) / STEPS_PER_SECOND;
}

function risingTimes(frames: readonly PoseFrame[]): number[] {
  const steps = toDifferences(frames, ({ timeSeconds }) => whole(timeSeconds * STEPS_PER_SECOND));
  assertRising(steps);
  return steps;
}

/** Throws when the time of a frame does not rise. */
export function assertRising(timeSteps: readonly number[]): void {
  const still = timeSteps.findIndex((step, index) => index > 0 && step <= 0);
  if (still > 0) throw new Error(`encodeFrames: the time of frame ${still} does not rise.`);
}

function storablePose(pose: Pose | null): Pose | null {
  if (pose === null) return null;
  const complete = pose.image.length === LANDMARK_NAMES.length && pose.world.length === LANDMARK_NAMES.length;
  const finite =
    pose.image.every(({ x, y, visibility }) => Number.isFinite(x + y + visibility)) &&
    pose.world.every(({ x, y, z }) => Number.isFinite(x + y + z));
  return complete && finite ? pose : null;
}

function landmarkColumns(poses: readonly Pose[], landmark: number): LandmarkColumns {
  const image = (steps: number, pick: (point: ImageLandmark) => number): number[] =>
    toDifferences(poses, (pose) => whole(pick(at(pose.image, landmark)) * steps));
  const world = (pick: (point: WorldLandmark) => number): number[] =>
    toDifferences(poses, (pose) => whole(pick(at(pose.world, landmark)) * STEPS_PER_METRE));
  return {
    xTenthPx: image(STEPS_PER_PX, ({ x }) => x),
    yTenthPx: image(STEPS_PER_PX, ({ y }) => y),
    visibilityPercent: image(STEPS_OF_VISIBILITY, ({ visibility }) => visibility),
    worldXMm: world(({ x }) => x),
    worldYMm: world(({ y }) => y),
    worldZMm: world(({ z: depth }) => depth),
  };
}

function decodePoses(series: FrameSeries): Pose[] {
  const columns = LANDMARK_NAMES.map((name) => {
    const stored = series.landmarks[name];
    return {
      x: new ColumnReader(stored.xTenthPx, STEPS_PER_PX),
      y: new ColumnReader(stored.yTenthPx, STEPS_PER_PX),
      visibility: new ColumnReader(stored.visibilityPercent, STEPS_OF_VISIBILITY),
      worldX: new ColumnReader(stored.worldXMm, STEPS_PER_METRE),
      worldY: new ColumnReader(stored.worldYMm, STEPS_PER_METRE),
      worldZ: new ColumnReader(stored.worldZMm, STEPS_PER_METRE),
    };
  });
  const poseCount = series.landmarks[LANDMARK_NAMES[0]].xTenthPx.length;
  const poses: Pose[] = [];
  for (let i = 0; i < poseCount; i++) {
    poses.push({
      image: columns.map(({ x, y, visibility }) => ({
        x: x.read(),
        y: y.read(),
        visibility: visibility.read(),
      })),
      world: columns.map(({ worldX, worldY, worldZ }) => ({
        x: worldX.read(),
        y: worldY.read(),
        z: worldZ.read(),
      })),
    });
  }
  return poses;
}

/** What contradicts itself in a series whose types are right, or null. */
function inconsistency(series: FrameSeries): string | null {
  const { frameCount, timeTenthMs, pictureSizePx, people, brightness, posed, landmarks } = series;
  if (timeTenthMs.length !== frameCount) return 'There are not as many times as frames.';
  if (timeTenthMs.some((step, index) => index > 0 && step <= 0)) return 'Time does not rise.';
  const runs = [pictureSizePx, people, brightness, posed];
  if (runs.some((column) => runLength(column) !== frameCount)) return 'Runs do not add up to the frames.';
  const found = runLength(posed.filter(([, isPosed]) => isPosed));
  for (const [name, columns] of Object.entries(landmarks)) {
    if (Object.values(columns).some((column) => column.length !== found))
      return `A column of ${name} does not have as many entries as there are frames with a person.`;
    const visibility = toValues(columns.visibilityPercent);
    if (visibility.some((percent) => percent < 0 || percent > STEPS_OF_VISIBILITY))
      return `The visibility of ${name} leaves 0 to ${STEPS_OF_VISIBILITY}.`;
  }
  return null;
}

function wholeOrNull(value: number | null): number | null {
  return value === null ? null : whole(value);
}
