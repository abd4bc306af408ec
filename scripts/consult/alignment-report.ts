import { quantile } from '../../src/core/math/statistics.ts';
import { liveMessageSchema, type LiveMessage } from '../../src/core/consult/messages.ts';
import { readFrameStrip } from '../../tests/helpers/frame-strip.ts';
import type { Table } from '../demo-check/read-table.ts';

type Cell = { readonly upper: number; readonly lower: number };
type Point = { readonly x: number; readonly y: number };

/** What alignment-page.mjs noted in a page. */
export interface Noted {
  readonly camera: readonly { readonly timeMs: number; readonly cells: readonly Cell[] }[];
  readonly live: readonly { readonly hereMs: number; readonly text: string }[];
  readonly canvas: readonly {
    readonly hereMs: number;
    readonly cells: readonly Cell[];
    /** Joints as they are drawn, shares of width and height. */
    readonly blobs: readonly Point[];
  }[];
}

/** How far the drawn figure is from the picture under it. */
export interface Alignment {
  /** Looks at the canvas with a picture on it, and share of all looks. */
  readonly looks: number;
  readonly figureShare: number;
  /** Time between two figures that came, by their pictures' own time, milliseconds. */
  readonly gapsMs: readonly number[];
  /** Drawn figure's picture against the shown one, frames; looks at a moving figure only. */
  readonly frames: readonly number[];
  /** Drawn joint against the joint as measured in the shown picture: what the matching adds, pixels. */
  readonly addedPx: readonly number[];
  /** Drawn joint against the true one of the shown picture, pixels. */
  readonly truthPx: readonly number[];
  /** The measured joint against the true one of its own picture, pixels: what the network adds. */
  readonly networkPx: readonly number[];
  /** The newest figure that had come against the shown picture, frames: the error without any matching. */
  readonly unmatchedFrames: readonly number[];
}

const JOINTS = ['shoulder', 'elbow', 'wrist', 'hip'] as const;
/** The time of a figure is told by its place only while its joints move so much in all, pixels a frame. */
const LEAST_MOTION_PX = 2;
/** How far around the shown picture the drawn one is looked for, frames. */
const SEARCH_FRAMES = 15;
/** So many pictures in a row may have been missed by the note-taking, and those between are still told by their time. */
const MOST_MISSED_FRAMES = 10;
/** A drawn joint this near to a measured one, pixels, is that joint. */
const SAME_JOINT_PX = 40;

interface Measured {
  readonly frame: number;
  readonly hereMs: number;
  readonly message: LiveMessage;
}

/** Brings what both pages noted together with the clip's truth. passFrames: pictures of one pass of the camera's file. */
export function alignmentOf(
  { patient, therapist }: { readonly patient: Noted; readonly therapist: Noted },
  truth: { readonly table: Table; readonly side: 'left' | 'right'; readonly passFrames: number },
): Alignment {
  const camera = patient.camera.flatMap(({ timeMs, cells }) => {
    const number = readFrameStrip(cells);
    return number === null ? [] : [{ timeMs, number }];
  });
  const came = therapist.live.map(({ hereMs, text }) => ({
    hereMs,
    message: liveMessageSchema.parse(JSON.parse(text)),
  }));
  const numberAt = numbersByTime(
    camera,
    came.map(({ message }) => message.timeSeconds * 1000),
  );
  const measured = came.flatMap(({ hereMs, message }): Measured[] => {
    const frame = numberAt(message.timeSeconds * 1000);
    return frame === null ? [] : [{ frame, hereMs, message }];
  });
  const found = {
    frames: [] as number[],
    addedPx: [] as number[],
    truthPx: [] as number[],
    networkPx: [] as number[],
    unmatchedFrames: [] as number[],
  };
  let looks = 0;
  let withFigure = 0;
  for (const { hereMs, cells, blobs } of therapist.canvas) {
    looks += 1;
    const shown = readFrameStrip(cells);
    if (shown === null || blobs.length === 0) continue;
    withFigure += 1;
    const newest = measured.findLast((one) => one.hereMs <= hereMs);
    const near = measured
      .filter((one) => Math.abs(one.hereMs - hereMs) < 4_000 && Math.abs(one.frame - shown) < 60)
      .toSorted((a, b) => a.frame - b.frame);
    const size = near[0]?.message;
    const isAtSeam = shown < 60 || shown > truth.passFrames - 60;
    if (newest === undefined || size === undefined || isAtSeam) continue;
    found.unmatchedFrames.push(newest.frame - shown);
    const drawn = blobs.map(({ x, y }) => ({ x: x * size.widthPx, y: y * size.heightPx }));
    const here = figureAt(near, shown);
    if (here === null) continue;
    for (const name of JOINTS) {
      const own = here[name];
      const joint = own === null ? null : nearest(drawn, own);
      if (own === null || joint === null || distance(joint, own) > SAME_JOINT_PX) continue;
      found.addedPx.push(distance(joint, own));
      const at = (axis: 'x' | 'y') => truth.table.number(shown, `${truth.side}_${name}_${axis}_px`);
      const [x, y] = [at('x'), at('y')];
      if (x === null || y === null) continue;
      found.truthPx.push(distance(joint, { x, y }));
      found.networkPx.push(distance(own, { x, y }));
    }
    const frame = drawnFrame(near, drawn, shown);
    if (frame !== null) found.frames.push(frame - shown);
  }
  const times = measured.map(({ message }) => message.timeSeconds * 1000);
  const gapsMs = times.slice(1).map((time, index) => time - (times[index] ?? time));
  return { looks, figureShare: withFigure / Math.max(1, looks), gapsMs, ...found };
}

/**
 * The number of the picture that was measured at a time of the session, whose clock began with one of the camera's pictures: the one from which
 * on the most measured times fall on a picture's. A camera's times are not even, so no other one fits them.
 */
function numbersByTime(
  camera: readonly { readonly timeMs: number; readonly number: number }[],
  measuredMs: readonly number[],
): (timeMs: number) => number | null {
  const numbers = new Map(camera.map(({ timeMs, number }) => [Math.round(timeMs), number]));
  const from = (beginMs: number, timeMs: number): number | null => {
    const at = Math.round(beginMs + timeMs);
    return numbers.get(at) ?? numbers.get(at + 1) ?? numbers.get(at - 1) ?? null;
  };
  const fits = camera
    .map(({ timeMs }) => ({
      timeMs,
      count: measuredMs.filter((one) => from(timeMs, one) !== null).length,
    }))
    .toSorted((a, b) => b.count - a.count);
  const [best, next] = fits;
  if (best === undefined || measuredMs.length === 0) return () => null;
  console.log(
    `${String(best.count)} of ${String(measuredMs.length)} figures fall on a noted picture of the camera; counted from another first one, ${String(next?.count ?? 0)} would`,
  );
  return (timeMs) => from(best.timeMs, timeMs) ?? between(camera, best.timeMs + timeMs);
}

/** The number of a picture that the note-taking missed: by its time between its noted neighbours, which a camera gives at an even rate. */
function between(
  camera: readonly { readonly timeMs: number; readonly number: number }[],
  timeMs: number,
): number | null {
  const before = camera.findLast((one) => one.timeMs <= timeMs);
  const after = camera.find((one) => one.timeMs > timeMs);
  if (before === undefined || after === undefined) return null;
  const frames = after.number - before.number;
  if (frames < 1 || frames > MOST_MISSED_FRAMES) return null;
  const share = (timeMs - before.timeMs) / (after.timeMs - before.timeMs);
  return before.number + Math.round(share * frames);
}

/** Which picture the drawn figure is of, frames with a part; null where it moves too little to tell. */
function drawnFrame(near: readonly Measured[], drawn: readonly Point[], shown: number): number | null {
  const [before, after] = [figureAt(near, shown - 3), figureAt(near, shown + 3)];
  if (before === null || after === null) return null;
  const motion = JOINTS.reduce((sum, name) => {
    const [from, to] = [before[name], after[name]];
    return from === null || to === null ? sum : sum + distance(from, to) / 6;
  }, 0);
  if (motion < LEAST_MOTION_PX) return null;
  let best = { frame: shown, squared: Infinity };
  for (let frame = shown - SEARCH_FRAMES; frame <= shown + SEARCH_FRAMES; frame += 0.1) {
    const figure = figureAt(near, frame);
    if (figure === null) continue;
    const squared = drawn.reduce((sum, point) => {
      const joint = nearest(
        JOINTS.flatMap((name) => figure[name] ?? []),
        point,
      );
      return joint === null ? sum : sum + Math.min(distance(joint, point), SAME_JOINT_PX) ** 2;
    }, 0);
    if (squared < best.squared) best = { frame, squared };
  }
  return best.frame;
}

type Figure = Readonly<Record<(typeof JOINTS)[number], Point | null>>;

/** The figure as measured at this frame, between two measured pictures where need be. */
function figureAt(near: readonly Measured[], frame: number): Figure | null {
  const before = near.findLast((one) => one.frame <= frame);
  const after = near.find((one) => one.frame > frame) ?? before;
  if (before === undefined || after === undefined || after.frame - before.frame > 10) return null;
  if (after === before && frame - before.frame > 0.5) return null;
  const share = after === before ? 0 : (frame - before.frame) / (after.frame - before.frame);
  const joint = (name: keyof Figure): Point | null => {
    const [from, to] = [before.message.joints[name], after.message.joints[name]];
    if (from === null || to === null) return null;
    return { x: from.x + share * (to.x - from.x), y: from.y + share * (to.y - from.y) };
  };
  return { shoulder: joint('shoulder'), elbow: joint('elbow'), wrist: joint('wrist'), hip: joint('hip') };
}

function nearest(points: readonly Point[], to: Point): Point | null {
  return points.toSorted((a, b) => distance(a, to) - distance(b, to))[0] ?? null;
}

function distance(a: Point, b: Point): number {
  return Math.hypot(a.x - b.x, a.y - b.y);
}

/** Median, 95th percentile and largest of the sizes of errors. */
export function spread(errors: readonly number[]): { median: number; p95: number; largest: number } {
  const sizes = errors.map(Math.abs);
  const at = (share: number): number => Math.round(100 * (quantile(sizes, share) ?? Number.NaN)) / 100;
  return { median: at(0.5), p95: at(0.95), largest: at(1) };
}
