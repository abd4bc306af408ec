import { WATCHED_JOINTS, type SharedShape, type WatchedJoint } from '../consult/picture-entries.ts';
import type { FigureOverlay } from '../pose/figure-overlay.ts';

/** A joint is named when it lies this near, share of the picture's longer side. Chosen for this tool. */
const NEAR_SHARE = 0.08;

interface Picture {
  readonly widthPx: number;
  readonly heightPx: number;
  readonly joints: FigureOverlay;
}

type Point = { readonly x: number; readonly y: number };

/** What a drawing shows, for whoever does not see it: "Arrow to the elbow", "Line from the shoulder to the wrist". */
export function drawingWords(shape: SharedShape, picture: Picture): string {
  switch (shape.kind) {
    case 'arrow':
      return `Arrow to ${placeWords(shape.to, picture)}`;
    case 'marker':
      return `Mark at ${placeWords(shape.at, picture)}`;
    case 'stroke': {
      const [from, to] = [shape.points[0], shape.points.at(-1)];
      if (from === undefined || to === undefined) return 'Line';
      return `Line from ${placeWords(from, picture)} to ${placeWords(to, picture)}`;
    }
  }
}

/** A joint pointed out: "Watch the elbow". */
export function watchedWords(joint: WatchedJoint | null): string {
  return joint === null ? 'No joint is pointed out' : `Watch the ${joint}`;
}

function placeWords(point: Point, { widthPx, heightPx, joints }: Picture): string {
  const nearest = WATCHED_JOINTS.flatMap((name) => {
    const joint = joints[name];
    return joint === null ? [] : [{ name, off: Math.hypot(joint.x - point.x, joint.y - point.y) }];
  }).toSorted((a, b) => a.off - b.off)[0];
  if (nearest !== undefined && nearest.off <= NEAR_SHARE * Math.max(widthPx, heightPx))
    return `the ${nearest.name}`;
  const third = (share: number, names: readonly [string, string, string]): string =>
    names[share < 1 / 3 ? 0 : share < 2 / 3 ? 1 : 2];
  const [down, across] = [
    third(point.y / heightPx, ['top', 'middle', 'bottom']),
    third(point.x / widthPx, ['left', 'middle', 'right']),
  ];
  return across === down ? 'the middle of the picture' : `the ${down} ${across} of the picture`;
}
