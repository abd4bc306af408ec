import { z } from 'zod';
import type { YardstickCase } from '../../demo-clips/generator/yardstick/cases.ts';
import type { LandmarkSource } from '../../src/core/kinematics/landmark-errors.ts';
import { combinePoses } from '../../src/core/pose/combine-poses.ts';
import type { Pose, PoseFrame } from '../../src/core/pose/pose-frame.ts';
import { LANDMARK_NAMES, landmarkIndex } from '../../src/core/pose/landmark.ts';
import {
  decodeFrames,
  encodeFrames,
  frameSeriesSchema,
  type FrameSeries,
} from '../../src/core/session/quantised-frames.ts';
import { outlineDigest } from './outline-digest.ts';

/** The networks that have looked at each drawn picture; mirrored: at the picture mirrored, and mirrored back. */
export const TRACE_MODELS = ['full', 'fullMirrored', 'heavy'] as const;
export type TraceModel = (typeof TRACE_MODELS)[number];

/** What can be measured with: a network alone, or all three looks combined into one pose. */
export const MEASURED_MODELS = [...TRACE_MODELS, 'combined'] as const;
export type MeasuredModel = (typeof MEASURED_MODELS)[number];

/** What the chain takes the landmarks for: a mirrored picture is looked at by the same network. */
export const LANDMARKS_OF: Readonly<Record<MeasuredModel, LandmarkSource>> = {
  full: 'blazepose-full',
  fullMirrored: 'blazepose-full',
  heavy: 'blazepose-heavy',
  combined: 'blazepose-combined',
};

/**
 * What is kept of a case: what each network found in each drawn picture, in the record's own whole numbers. This schema
 * is the one definition of tests/yardstick/traces/ID.json.gz.
 */
const traceSchema = z.strictObject({
  version: z.literal(1),
  id: z.string().regex(/^[\w-]+$/),
  /** Of everything that the pictures were drawn from; see outlineDigest. */
  outlineDigest: z.string().regex(/^[0-9a-f]{16}$/),
  series: z.strictObject({
    full: frameSeriesSchema,
    fullMirrored: frameSeriesSchema,
    heavy: frameSeriesSchema,
  }),
});
export type YardstickTrace = z.infer<typeof traceSchema>;

/** What each network found in each picture, in the pictures' order; null where nobody was found. */
export type FoundPoses = Readonly<Record<TraceModel, readonly (Pose | null)[]>>;

/** Eyes and mouth say nothing that measuring reads. They are kept as the nose, which costs next to nothing. */
const LEFT_OUT = /eye|mouth/;

/**
 * The trace of a case's drawn pictures.
 * @throws Error when there are not as many poses as drawn moments.
 */
export function traceOf(drawnCase: YardstickCase, found: FoundPoses): YardstickTrace {
  return traceSchema.parse({
    version: 1,
    id: drawnCase.id,
    outlineDigest: outlineDigest(drawnCase),
    series: {
      full: seriesOf(drawnCase, found.full),
      fullMirrored: seriesOf(drawnCase, found.fullMirrored),
      heavy: seriesOf(drawnCase, found.heavy),
    },
  });
}

/**
 * The trace that a file's content states.
 * @throws Error when it is none.
 */
export function parseTrace(content: unknown): YardstickTrace {
  return traceSchema.parse(content);
}

/** True when the trace is of exactly these pictures: a changed body, room, camera, movement or moment makes it stale. */
export function isCurrent(drawnCase: YardstickCase, trace: YardstickTrace): boolean {
  return trace.outlineDigest === outlineDigest(drawnCase);
}

/** What a network, or all looks combined, found at the drawn moments, as frames. */
export function foundFrames(trace: YardstickTrace, model: MeasuredModel): PoseFrame[] {
  if (model !== 'combined') return decodeFrames(trace.series[model]);
  const [mirrored, heavy] = [decodeFrames(trace.series.fullMirrored), decodeFrames(trace.series.heavy)];
  return decodeFrames(trace.series.full).map((frame, i) => {
    const others = { fullMirrored: mirrored[i]?.pose ?? null, heavy: heavy[i]?.pose ?? null };
    const { pose } = combinePoses({ full: frame.pose, ...others });
    return { ...frame, pose, people: pose === null ? 0 : 1 };
  });
}

function seriesOf(drawnCase: YardstickCase, poses: readonly (Pose | null)[]): FrameSeries {
  const { drawnTimesSeconds, outline } = drawnCase;
  if (poses.length !== drawnTimesSeconds.length)
    throw new Error(`traceOf: ${drawnCase.id} has ${String(poses.length)} poses of its drawn moments.`);
  const { widthPx, heightPx } = outline.camera;
  return encodeFrames(
    drawnTimesSeconds.map((timeSeconds, index) => {
      const pose = withoutFace(poses[index] ?? null);
      return { timeSeconds, widthPx, heightPx, pose, people: pose === null ? 0 : 1, brightness: null };
    }),
  );
}

function withoutFace(pose: Pose | null): Pose | null {
  if (pose === null) return null;
  const nose = landmarkIndex('nose');
  const kept = LANDMARK_NAMES.map((name, index) => (LEFT_OUT.test(name) ? nose : index));
  return {
    image: kept.flatMap((index) => pose.image[index] ?? []),
    world: kept.flatMap((index) => pose.world[index] ?? []),
  };
}
