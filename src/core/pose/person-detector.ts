/** Side of the person detector's square input, pixels. */
export const DETECTOR_INPUT_PX = 224;

/** Boxes that the detector proposes for each picture. */
const BOX_COUNT = 2254;
const VALUES_PER_BOX = 12;

/** Sizes of the detector's two outputs, by which they are told apart. */
export const DETECTOR_OUTPUT_SIZES = { boxes: BOX_COUNT * VALUES_PER_BOX, scores: BOX_COUNT } as const;

/**
 * Cells of the two finest grids and the coarsest, with how many boxes each cell proposes. Three layers share the
 * coarsest grid. Source: strides 8, 16, 32, 32, 32 and two boxes a cell and layer, BLAZEPOSE_DETECTOR_ANCHOR_CONFIGURATION
 * in pose-detection 2.1.3, dist/blazepose_tfjs/constants.
 */
const GRIDS = [
  { cells: 28, boxesPerCell: 2 },
  { cells: 14, boxesPerCell: 2 },
  { cells: 7, boxesPerCell: 6 },
] as const;

/** Least score of a person and greatest overlap of two. Source: the same constants file (0.5 and 0.3). */
const LEAST_SCORE = 0.5;
const OVERLAP_OF_ONE = 0.3;

/** Raw scores beyond this are cut before the sigmoid. Source: the same constants file. */
const SCORE_CUT = 100;

/** A place in the picture, pixels; x to the right, y down. */
export interface PicturePoint {
  readonly x: number;
  readonly y: number;
}

/** A person whom the detector found in one picture. All places in pixels of the picture. */
export interface DetectedPerson {
  /** 0.5 to 1. */
  readonly score: number;
  readonly midHip: PicturePoint;
  readonly midShoulder: PicturePoint;
  /** A point of the body's circle about the hips, over the head of who stands: it tells how the body is turned. */
  readonly onCircle: PicturePoint;
  /** Radius about the hips of a circle that holds the whole body, pixels: the body's size in the picture. */
  readonly bodyRadiusPx: number;
}

/** How a picture was fitted into the detector's square: scaled, in the middle, the rest black. */
export interface Letterbox {
  /** Detector pixels for one pixel of the picture. */
  readonly scale: number;
  /** Where the picture's top left corner lies in the square, pixels of the square. */
  readonly left: number;
  readonly top: number;
}

/** Fits a picture of the given size into the detector's square. Both sides must be above 0. */
export function letterbox(widthPx: number, heightPx: number): Letterbox {
  const scale = DETECTOR_INPUT_PX / Math.max(widthPx, heightPx);
  return {
    scale,
    left: (DETECTOR_INPUT_PX - widthPx * scale) / 2,
    top: (DETECTOR_INPUT_PX - heightPx * scale) / 2,
  };
}

interface Candidate {
  readonly score: number;
  /** Twelve places in the square, 0 to 1: box centre, box size, then four points (x, y each). */
  readonly values: readonly number[];
}

const ANCHORS: readonly PicturePoint[] = GRIDS.flatMap(({ cells, boxesPerCell }) =>
  Array.from({ length: cells * cells * boxesPerCell }, (_, index) => {
    const cell = Math.floor(index / boxesPerCell);
    return { x: ((cell % cells) + 0.5) / cells, y: (Math.floor(cell / cells) + 0.5) / cells };
  }),
);

/**
 * People in the detector's raw output, strongest first. Boxes that overlap are one person, whose places are the
 * score-weighted mean, as in the published pose graph. rawBoxes: 2254 x 12 values in pixels of the square, relative to
 * each box's anchor; rawScores: 2254 values before the sigmoid. Throws when the sizes differ.
 * Source: pose-detection 2.1.3, dist/shared/calculators/tensors_to_detections and the weighted suppression of the
 * MediaPipe graph.
 */
export function decodePeople(
  rawBoxes: Float32Array,
  rawScores: Float32Array,
  fitted: Letterbox,
): readonly DetectedPerson[] {
  if (rawBoxes.length !== BOX_COUNT * VALUES_PER_BOX || rawScores.length !== BOX_COUNT)
    throw new Error(
      `decodePeople: expected ${String(BOX_COUNT)} boxes of ${String(VALUES_PER_BOX)} values, ` +
        `got ${String(rawBoxes.length)} values and ${String(rawScores.length)} scores.`,
    );
  const candidates: Candidate[] = [];
  rawScores.forEach((raw, index) => {
    const score = sigmoid(Math.min(SCORE_CUT, Math.max(-SCORE_CUT, raw)));
    if (score >= LEAST_SCORE) candidates.push({ score, values: placeBox(rawBoxes, index) });
  });
  candidates.sort((a, b) => b.score - a.score);
  return suppress(candidates).map((candidate) => toPerson(candidate, fitted));
}

function placeBox(rawBoxes: Float32Array, index: number): number[] {
  const anchor = ANCHORS[index] ?? { x: 0, y: 0 };
  return Array.from({ length: VALUES_PER_BOX }, (_, k) => {
    const offset = (rawBoxes[index * VALUES_PER_BOX + k] ?? 0) / DETECTOR_INPUT_PX;
    const isSize = k === 2 || k === 3;
    return isSize ? offset : offset + (k % 2 === 0 ? anchor.x : anchor.y);
  });
}

/** Takes the strongest, joins all that overlap it into their weighted mean, and goes on with the rest. */
function suppress(strongestFirst: readonly Candidate[]): Candidate[] {
  const kept: Candidate[] = [];
  let rest = strongestFirst;
  for (let best = rest[0]; best !== undefined; best = rest[0]) {
    const strongest = best;
    const same = rest.filter((other) => other === strongest || overlap(strongest, other) > OVERLAP_OF_ONE);
    rest = rest.filter((other) => !same.includes(other));
    const weight = same.reduce((sum, { score }) => sum + score, 0);
    kept.push({
      score: strongest.score,
      values: strongest.values.map(
        (_, k) => same.reduce((sum, { score, values }) => sum + score * at(values, k), 0) / weight,
      ),
    });
  }
  return kept;
}

/** Shared area over joint area of two boxes, 0 to 1. */
function overlap(a: Candidate, b: Candidate): number {
  const shared = sharedLength(a, b, 0) * sharedLength(a, b, 1);
  const joint = at(a.values, 2) * at(a.values, 3) + at(b.values, 2) * at(b.values, 3) - shared;
  return joint > 0 ? shared / joint : 0;
}

function sharedLength(a: Candidate, b: Candidate, axis: 0 | 1): number {
  const half = (candidate: Candidate): number => at(candidate.values, axis + 2) / 2;
  const end = Math.min(at(a.values, axis) + half(a), at(b.values, axis) + half(b));
  const start = Math.max(at(a.values, axis) - half(a), at(b.values, axis) - half(b));
  return Math.max(0, end - start);
}

/** The four points are mid-hip, the whole body's circle, mid-shoulder, the upper body's circle. */
function toPerson({ score, values }: Candidate, { scale, left, top }: Letterbox): DetectedPerson {
  const point = (k: number): PicturePoint => ({
    x: (at(values, k) * DETECTOR_INPUT_PX - left) / scale,
    y: (at(values, k + 1) * DETECTOR_INPUT_PX - top) / scale,
  });
  const midHip = point(4);
  const onCircle = point(6);
  return {
    score,
    midHip,
    midShoulder: point(8),
    onCircle,
    bodyRadiusPx: Math.hypot(onCircle.x - midHip.x, onCircle.y - midHip.y),
  };
}

function sigmoid(value: number): number {
  return 1 / (1 + Math.exp(-value));
}

function at(values: readonly number[], index: number): number {
  return values[index] ?? 0;
}
