/**
 * The part of a shared picture in which the treated person is, in whole pixels of that picture. Only it is measured, and
 * landmarks are given in its own pixels: from its left upper corner, and from the right one where it is mirrored.
 */
export interface PictureTile {
  readonly leftPx: number;
  readonly topPx: number;
  readonly widthPx: number;
  readonly heightPx: number;
  /** Size of the whole picture when the tile was framed. */
  readonly ofWidthPx: number;
  readonly ofHeightPx: number;
  /** The call shows the person as a mirror does: measured turned back, so that left is the person's left. */
  readonly isMirrored: boolean;
}

/** A frame as it is drawn by hand, in percent of the whole picture's width and height. */
export interface TileFrame {
  readonly left: number;
  readonly top: number;
  readonly width: number;
  readonly height: number;
}

/** A place in the picture, percent of its width and height. */
export interface PicturePlace {
  readonly x: number;
  readonly y: number;
}

export const TILE_CORNERS = ['top left', 'top right', 'bottom right', 'bottom left'] as const;
export type TileCorner = (typeof TILE_CORNERS)[number];

interface Size {
  readonly widthPx: number;
  readonly heightPx: number;
}

/** The smallest frame, percent of the picture: less is a slip of the hand. Our own choice. */
export const LEAST_FRAME_PERCENT = 5;

/** The frame of the whole picture. */
export const WHOLE_FRAME: TileFrame = { left: 0, top: 0, width: 100, height: 100 };

/** The nearest frame in whole percents that lies in the picture and is not too small. Numbers must be finite. */
export function fitFrame({ left, top, width, height }: TileFrame): TileFrame {
  const [l, w] = fitSpan(left, width);
  const [t, h] = fitSpan(top, height);
  return { left: l, top: t, width: w, height: h };
}

function fitSpan(start: number, length: number): [start: number, length: number] {
  const fits = clamp(Math.round(length), LEAST_FRAME_PERCENT, 100);
  return [clamp(Math.round(start), 0, 100 - fits), fits];
}

/** The frame between two opposite corners, in whichever order they were set. */
export function frameBetween(one: PicturePlace, other: PicturePlace): TileFrame {
  const [left, right] = ordered(one.x, other.x);
  const [top, bottom] = ordered(one.y, other.y);
  return fitFrame({ left, top, width: right - left, height: bottom - top });
}

function ordered(one: number, other: number): [low: number, high: number] {
  const [a, b] = [clamp(Math.round(one), 0, 100), clamp(Math.round(other), 0, 100)];
  return a < b ? [a, b] : [b, a];
}

/** The frame moved by so many percent; it keeps its size and stays in the picture. */
export function movedFrame(frame: TileFrame, across: number, down: number): TileFrame {
  return fitFrame({ ...frame, left: frame.left + across, top: frame.top + down });
}

/**
 * The frame with one of its numbers said anew, within 0 and what the least frame leaves: that number holds. A place further in takes
 * from the length, a length that does not fit moves the place.
 */
export function withNumber(frame: TileFrame, name: keyof TileFrame, percent: number): TileFrame {
  const { left, top, width, height } = frame;
  if (name === 'left') return fitFrame({ ...frame, left: percent, width: Math.min(width, 100 - percent) });
  if (name === 'top') return fitFrame({ ...frame, top: percent, height: Math.min(height, 100 - percent) });
  return fitFrame({ left, top, width, height, [name]: percent });
}

/** Where a corner of a frame lies. */
export function cornerOf({ left, top, width, height }: TileFrame, corner: TileCorner): PicturePlace {
  return {
    x: corner.endsWith('left') ? left : left + width,
    y: corner.startsWith('top') ? top : top + height,
  };
}

/** The frame with one corner at another place. The opposite corner stays, and the frame keeps its least size. */
export function withCorner(frame: TileFrame, corner: TileCorner, to: PicturePlace): TileFrame {
  const right = frame.left + frame.width;
  const bottom = frame.top + frame.height;
  const x = Math.round(to.x);
  const y = Math.round(to.y);
  const [left, width] = corner.endsWith('left')
    ? spanTo(clamp(x, 0, right - LEAST_FRAME_PERCENT), right)
    : spanTo(frame.left, clamp(x, frame.left + LEAST_FRAME_PERCENT, 100));
  const [top, height] = corner.startsWith('top')
    ? spanTo(clamp(y, 0, bottom - LEAST_FRAME_PERCENT), bottom)
    : spanTo(frame.top, clamp(y, frame.top + LEAST_FRAME_PERCENT, 100));
  return { left, top, width, height };
}

function spanTo(start: number, end: number): [start: number, length: number] {
  return [start, end - start];
}

/** The tile of a frame in a picture of this size, at least 2 pixels each way. Even numbers: there pictures in luma and colour can be cut. */
export function tileOf(frame: TileFrame, size: Size, isMirrored: boolean): PictureTile {
  const [leftPx, widthPx] = evenSpan(frame.left, frame.width, size.widthPx);
  const [topPx, heightPx] = evenSpan(frame.top, frame.height, size.heightPx);
  return {
    leftPx,
    topPx,
    widthPx,
    heightPx,
    ofWidthPx: size.widthPx,
    ofHeightPx: size.heightPx,
    isMirrored,
  };
}

function evenSpan(start: number, length: number, wholePx: number): [startPx: number, lengthPx: number] {
  const end = 2 * Math.floor(((start + length) * wholePx) / 200);
  const from = Math.max(0, Math.min(2 * Math.round((start * wholePx) / 200), end - 2));
  return [from, Math.max(2, end - from)];
}

/** True while a picture has the size of the one in which the tile was framed: else the layout is another, and somebody else may be there. */
export function isTileOf({ ofWidthPx, ofHeightPx }: PictureTile, { widthPx, heightPx }: Size): boolean {
  return ofWidthPx === widthPx && ofHeightPx === heightPx;
}

function clamp(value: number, low: number, high: number): number {
  return Math.min(high, Math.max(low, value));
}
