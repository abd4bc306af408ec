import type { FrozenPicture, SharedPicture } from '../core/consult/shared-picture.ts';
import { sharedPicture } from '../core/consult/shared-picture.ts';
import { MOST_LINE_POINTS, type SharedShape, type WatchedJoint } from '../core/consult/picture-entries.ts';
import { thinned } from '../core/consult/thinned.ts';
import { drawingWords } from '../core/feedback/drawing-words.ts';
import type { FigureDrawing } from '../core/pose/figure-surface.ts';
import type { ConsultLine } from './consult-line.svelte.ts';

/** A picture with its figure that can be held still. */
export interface StillPicture extends FigureDrawing {
  readonly image: CanvasImageSource;
  /** When it was taken, by the patient's clock, milliseconds. */
  readonly capturedMs: number;
}

/** The picture that both sides look at: held still, drawn on, a joint pointed out. Worked out from the course, so it is the same on both. */
export class ConsultSharing {
  readonly #line: Pick<ConsultLine, 'course' | 'add'>;
  readonly #shared = $derived.by((): SharedPicture => sharedPicture(this.#line.course.lines));
  #own = $state.raw<{ readonly pictureId: number; readonly image: CanvasImageSource } | null>(null);

  constructor(line: Pick<ConsultLine, 'course' | 'add'>) {
    this.#line = line;
  }

  get frozen(): FrozenPicture | null {
    return this.#shared.frozen;
  }

  /** The joint that is pointed out, or null. */
  get joint(): WatchedJoint | null {
    return this.#shared.joint;
  }

  /** This machine's own copy of the picture that is held still; null where it has none. */
  get image(): CanvasImageSource | null {
    return this.#own !== null && this.#own.pictureId === this.frozen?.pictureId ? this.#own.image : null;
  }

  /** Keeps this machine's copy of a picture that is held still. */
  have(pictureId: number, image: CanvasImageSource): void {
    this.#own = { pictureId, image };
  }

  /** Holds a picture still on both sides. */
  freeze({ image, capturedMs, widthPx, heightPx, overlay }: StillPicture): void {
    const pictureId = this.#shared.lastId + 1;
    this.have(pictureId, image);
    this.#line.add({
      what: 'picture-frozen',
      pictureId,
      capturedMs: Math.max(0, capturedMs),
      widthPx,
      heightPx,
      joints: overlay,
    });
  }

  /** Draws on the picture that is held still, for both. */
  draw(shape: SharedShape): void {
    const { frozen } = this;
    if (frozen === null) return;
    const fitting =
      shape.kind === 'stroke' ? { ...shape, points: thinned(shape.points, MOST_LINE_POINTS) } : shape;
    this.#line.add({
      what: 'picture-drawn',
      pictureId: frozen.pictureId,
      shape: fitting,
      words: drawingWords(fitting, frozen),
    });
  }

  clear(): void {
    const { frozen } = this;
    if (frozen !== null) this.#line.add({ what: 'picture-cleared', pictureId: frozen.pictureId });
  }

  /** A note to the picture that is held still, seen by both. */
  note(words: string): void {
    const { frozen } = this;
    if (frozen !== null) this.#line.add({ what: 'picture-noted', pictureId: frozen.pictureId, words });
  }

  /** Lets the picture run again. */
  letGo(): void {
    const { frozen } = this;
    if (frozen !== null) this.#line.add({ what: 'picture-let-go', pictureId: frozen.pictureId });
  }

  /** Points a joint out, or none. */
  watchJoint(joint: WatchedJoint | null): void {
    this.#line.add({ what: 'joint-watched', joint });
  }
}
