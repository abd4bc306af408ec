import type { PixelPicture } from './pixel-picture.ts';

/** Every so many pixels across and down one is compared. */
const STEP_PX = 4;

/**
 * Tells a new picture from one that is only shown again: a call that sends ten pictures a second is shown on a screen with
 * sixty. A picture counts as the same when not one of the places looked at differs, so that no new one is ever left out for
 * a small change; of a person who keeps still a camera's noise makes every picture another.
 */
export class PictureMemory {
  #last = new Uint8Array(0);

  /** True when the picture is the one before again. Takes it for the next comparison. */
  isSame(picture: PixelPicture): boolean {
    const { columns, rows } = picture;
    const across = Math.ceil(columns / STEP_PX);
    const size = across * Math.ceil(rows / STEP_PX);
    let isSame = this.#last.length === size;
    if (!isSame) this.#last = new Uint8Array(size);
    const { offset, stride, step } = brightnessBytes(picture);
    let at = 0;
    for (let row = 0; row < rows; row += STEP_PX)
      for (let column = 0; column < columns; column += STEP_PX) {
        const value = picture.pixels[offset + row * stride + column * step] ?? 0;
        if (this.#last[at] !== value) {
          isSame = false;
          this.#last[at] = value;
        }
        at += 1;
      }
    return isSame;
  }
}

/** Where the bytes are that tell most of the brightness: luma, or green. */
function brightnessBytes(picture: PixelPicture): { offset: number; stride: number; step: number } {
  return picture.kind === 'rgb'
    ? { offset: 1, stride: picture.columns * 4, step: 4 }
    : { ...picture.luma, step: 1 };
}
