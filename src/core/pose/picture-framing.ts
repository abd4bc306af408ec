import type { PictureTile } from './picture-tile.ts';

/** Which tile of a shared picture is measured; null for the whole. Set by hand, and kept as long as the sharing goes on. */
export class PictureFraming {
  #tile: PictureTile | null = null;
  #listener: ((tile: PictureTile | null) => void) | null = null;

  get tile(): PictureTile | null {
    return this.#tile;
  }

  /** Measures another tile from the next picture on. */
  frame(tile: PictureTile | null): void {
    this.#tile = tile;
    this.#listener?.(tile);
  }

  /** Tells whoever measures of every change: one at a time, the latest counts. */
  onFrame(listener: ((tile: PictureTile | null) => void) | null): void {
    this.#listener = listener;
  }
}
