import type { SetJudgement } from '../exercises/judgement.ts';
import { valueOf, type Measured } from '../kinematics/measured.ts';
import type { DrawnJoint, FigureOverlay } from '../pose/figure-overlay.ts';
import { thinned } from './thinned.ts';
import { MOST_SHOWN_FRAMES, type ShownFrame } from './showing-entries.ts';

/** What was measured in one picture of a set. */
export interface SeenPicture {
  readonly timeSeconds: number;
  readonly elbowFlexionDeg: Measured;
  readonly joints: FigureOverlay;
}

/** Shown before and after a repetition, seconds: where the arm came from, and that it came back. Chosen for this tool. */
const AROUND_SECONDS = 0.5;

/** Room around a figure that is shown again, share of its longer side. Chosen for this tool. */
const ROOM_SHARE = 0.15;

/** Holds or repetitions of a set, partial ones too, in order of time. */
export function partsOf({
  holds,
  repetitions,
}: SetJudgement): readonly { startSeconds: number; endSeconds: number }[] {
  return [...holds, ...repetitions].toSorted((a, b) => a.startSeconds - b.startSeconds);
}

/** The figure of one hold or repetition out of what was seen of its set, at most MOST_SHOWN_FRAMES pictures, evenly left out. */
export function seenAgain(
  seen: readonly SeenPicture[],
  { startSeconds, endSeconds }: { readonly startSeconds: number; readonly endSeconds: number },
): ShownFrame[] {
  const within = seen.filter(
    ({ timeSeconds }) =>
      timeSeconds >= startSeconds - AROUND_SECONDS && timeSeconds <= endSeconds + AROUND_SECONDS,
  );
  const beginSeconds = within[0]?.timeSeconds ?? 0;
  return thinned(within, MOST_SHOWN_FRAMES).map(({ timeSeconds, elbowFlexionDeg, joints }) => {
    const flexionDeg = valueOf(elbowFlexionDeg);
    return {
      at: rounded(timeSeconds - beginSeconds, 1000),
      flexionDeg: flexionDeg === null ? null : rounded(flexionDeg, 10),
      shoulder: placeOf(joints.shoulder),
      elbow: placeOf(joints.elbow),
      wrist: placeOf(joints.wrist),
      hip: placeOf(joints.hip),
    };
  });
}

/** The figure of a shown picture, to be drawn. */
export function figureOfShown({ shoulder, elbow, wrist, hip }: ShownFrame): FigureOverlay {
  const joint = (place: ShownFrame['elbow']): DrawnJoint | null =>
    place === null ? null : { x: place[0], y: place[1], certainty: 'measured' };
  return { shoulder: joint(shoulder), elbow: joint(elbow), wrist: joint(wrist), hip: joint(hip) };
}

/** The picture that stands at this time of the showing; the last one after its end. Undefined where there is none. */
export function frameAt(frames: readonly ShownFrame[], atSeconds: number): ShownFrame | undefined {
  return frames.findLast(({ at }) => at <= atSeconds) ?? frames[0];
}

/** Three pictures that tell a movement without moving: its beginning, where the elbow was bent most, its end. */
export function stillsOf(frames: readonly ShownFrame[]): readonly ShownFrame[] {
  const [first, last] = [frames[0], frames.at(-1)];
  if (first === undefined || last === undefined) return [];
  const most = frames.reduce((best, one) =>
    (one.flexionDeg ?? -Infinity) > (best.flexionDeg ?? -Infinity) ? one : best,
  );
  return [first, most, last];
}

/** The part of the picture in which the figure moves, with room around it, pixels: x, y, width and height. */
export function roomOf(
  frames: readonly ShownFrame[],
  { widthPx, heightPx }: { readonly widthPx: number; readonly heightPx: number },
): { readonly x: number; readonly y: number; readonly width: number; readonly height: number } {
  const places = frames.flatMap(({ shoulder, elbow, wrist, hip }) =>
    [shoulder, elbow, wrist, hip].filter((place) => place !== null),
  );
  if (places.length === 0) return { x: 0, y: 0, width: widthPx, height: heightPx };
  const [across, down] = [places.map(([x]) => x), places.map(([, y]) => y)];
  const [left, top] = [Math.min(...across), Math.min(...down)];
  const [width, height] = [Math.max(...across) - left, Math.max(...down) - top];
  const around = Math.max(1, ROOM_SHARE * Math.max(width, height));
  return { x: left - around, y: top - around, width: width + 2 * around, height: height + 2 * around };
}

function placeOf(joint: DrawnJoint | null): ShownFrame['elbow'] {
  return joint === null ? null : [Math.round(joint.x), Math.round(joint.y)];
}

function rounded(value: number, parts: number): number {
  return Math.round(value * parts) / parts;
}
