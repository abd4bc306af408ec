import { clamp } from '../../core/math/statistics.ts';
import type { DrawnPlace } from './drawing.ts';

/** A curve that wants its name beside it. */
export interface CurveToLabel {
  readonly name: string;
  readonly places: readonly DrawnPlace[];
}

/** About how wide a letter is and how high a line, pixels, in the drawings' type size. */
const LETTER_PX = 7;
const LINE_PX = 16;
/** How far a name stands from its curve, pixels: above or below. */
const OFFSETS_PX = [-8, 18, -22, 32];

/** A part of a drawing, pixels. */
export interface LabelBox {
  readonly left: number;
  readonly right: number;
  readonly top: number;
  readonly bottom: number;
}

/**
 * A place for each curve's name, beside the curve and where it covers least of the other curves and names. The text is
 * centred on x, its base line is y.
 * @param room - where names may stand
 * @param written - what is written there already
 * @param clear - places that should stay clear as the curves should
 */
export function labelPlaces(
  curves: readonly CurveToLabel[],
  room: LabelBox,
  written: LabelBox,
  clear: readonly DrawnPlace[],
): (DrawnPlace | null)[] {
  const taken = [written];
  return curves.map(({ name, places }) => {
    let best: { readonly place: DrawnPlace; readonly cost: number; readonly box: LabelBox } | null = null;
    for (const { x, y } of places) {
      for (const [rank, offset] of OFFSETS_PX.entries()) {
        const half = (name.length * LETTER_PX) / 2;
        const at = {
          x: clamp(x, room.left + half, room.right - half),
          y: clamp(y + offset, room.top, room.bottom),
        };
        const box = { left: at.x - half, right: at.x + half, top: at.y - LINE_PX + 3, bottom: at.y + 3 };
        const covered = [...curves.flatMap((curve) => curve.places), ...clear].filter((p) => holds(box, p));
        const cost = 10 * covered.length + 100 * taken.filter((other) => overlap(box, other)).length + rank;
        if (best === null || cost < best.cost) best = { place: at, cost, box };
      }
    }
    if (best !== null) taken.push(best.box);
    return best?.place ?? null;
  });
}

function holds({ left, right, top, bottom }: LabelBox, { x, y }: DrawnPlace): boolean {
  return x >= left && x <= right && y >= top && y <= bottom;
}

function overlap(a: LabelBox, b: LabelBox): boolean {
  return a.left < b.right && b.left < a.right && a.top < b.bottom && b.top < a.bottom;
}
