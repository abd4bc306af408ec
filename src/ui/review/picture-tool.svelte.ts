import type { DrawnShape, PicturePoint } from '../../core/review/review-document.ts';

/** What can be done over a picture. */
export type Tool = 'angle' | 'stroke' | 'arrow' | 'marker';

/** What each point of a tool is, in order. A stroke has as many as it takes. */
const POINTS: Readonly<Record<Tool, readonly string[]>> = {
  angle: ['the shoulder', 'the elbow', 'the wrist'],
  arrow: ["the arrow's foot", "the arrow's tip"],
  marker: ['the mark'],
  stroke: ['a point of the line'],
};

/** Steps of the crosshair, as shares of the picture's width. */
const STEP = { fine: 0.005, coarse: 0.05 };

/** The points that are being placed over a picture, by pointer or by keys; points are in the picture's pixels. */
export class PictureTool {
  #tool = $state<Tool | null>(null);
  #points = $state.raw<readonly PicturePoint[]>([]);
  #crosshair = $state.raw<PicturePoint | null>(null);

  /** Null while nothing is being placed. */
  get tool(): Tool | null {
    return this.#tool;
  }

  get points(): readonly PicturePoint[] {
    return this.#points;
  }

  /** Where the keys are; null until a key moves it. */
  get crosshair(): PicturePoint | null {
    return this.#crosshair;
  }

  /** True once all points of the tool are placed. */
  get isComplete(): boolean {
    const { tool } = this;
    return tool !== null && tool !== 'stroke' && this.#points.length === POINTS[tool].length;
  }

  /** The next point, in words: "the elbow"; null when there is none to place. */
  get next(): string | null {
    const { tool } = this;
    if (tool === null || this.isComplete) return null;
    return POINTS[tool][tool === 'stroke' ? 0 : this.#points.length] ?? null;
  }

  /** Takes a tool up, or puts it away with null. */
  take(tool: Tool | null): void {
    this.#tool = tool;
    this.#points = [];
    this.#crosshair = null;
  }

  place(point: PicturePoint): void {
    if (this.#tool === null || this.isComplete) return;
    this.#points = [...this.#points, { x: rounded(point.x), y: rounded(point.y) }];
  }

  takeBack(): void {
    this.#points = this.#points.slice(0, -1);
  }

  /** Moves the crosshair by so many steps across and down; it starts in the middle, away from any point of the program. */
  move(
    across: number,
    down: number,
    picture: { readonly widthPx: number; readonly heightPx: number },
    isCoarse: boolean,
  ): void {
    const from = this.#crosshair ?? { x: picture.widthPx / 2, y: picture.heightPx / 2 };
    const step = picture.widthPx * (isCoarse ? STEP.coarse : STEP.fine);
    this.#crosshair = {
      x: Math.min(picture.widthPx, Math.max(0, from.x + across * step)),
      y: Math.min(picture.heightPx, Math.max(0, from.y + down * step)),
    };
  }

  /** Places a point at the crosshair, which comes up in the middle first. */
  placeAtCrosshair(picture: { readonly widthPx: number; readonly heightPx: number }): void {
    if (this.#crosshair === null) this.move(0, 0, picture, false);
    else this.place(this.#crosshair);
  }

  /** What is drawn so far as a shape, or null while too little of it is placed. */
  get shape(): DrawnShape | null {
    const [first, second] = this.#points;
    if (first === undefined) return null;
    if (this.#tool === 'marker') return { kind: 'marker', at: first };
    if (second === undefined) return null;
    if (this.#tool === 'arrow') return { kind: 'arrow', from: first, to: second };
    return this.#tool === 'stroke' ? { kind: 'stroke', points: [...this.#points] } : null;
  }
}

/** A tenth of a pixel is finer than anybody points. */
function rounded(value: number): number {
  return Math.round(value * 10) / 10;
}
