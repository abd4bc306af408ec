import { describe, expect, it } from 'vitest';
import {
  cornerOf,
  fitFrame,
  frameBetween,
  isTileOf,
  LEAST_FRAME_PERCENT,
  movedFrame,
  TILE_CORNERS,
  tileOf,
  WHOLE_FRAME,
  withCorner,
  withNumber,
  type TileFrame,
} from '../../../src/core/pose/picture-tile.ts';
import { seededRandom } from '../../helpers/seeded-random.ts';

const random = seededRandom(20260302);
const between = (low: number, high: number): number => low + (high - low) * random();
const anyFrame = (): TileFrame =>
  fitFrame({ left: between(0, 100), top: between(0, 100), width: between(0, 100), height: between(0, 100) });

function expectGood({ left, top, width, height }: TileFrame): void {
  for (const [start, length] of [
    [left, width],
    [top, height],
  ] as const) {
    expect(Number.isInteger(start) && Number.isInteger(length)).toBe(true);
    expect(start).toBeGreaterThanOrEqual(0);
    expect(length).toBeGreaterThanOrEqual(LEAST_FRAME_PERCENT);
    expect(start + length).toBeLessThanOrEqual(100);
  }
}

describe('a frame drawn by hand', () => {
  it('lies in the picture and is not too small, wherever the hand went', () => {
    for (let i = 0; i < 400; i += 1) {
      const far = (): number => between(-300, 400);
      expectGood(fitFrame({ left: far(), top: far(), width: far(), height: far() }));
      expectGood(frameBetween({ x: far(), y: far() }, { x: far(), y: far() }));
      expectGood(movedFrame(anyFrame(), far(), far()));
      for (const corner of TILE_CORNERS) expectGood(withCorner(anyFrame(), corner, { x: far(), y: far() }));
    }
  });

  it('is the same from whichever corner it is drawn', () => {
    for (let i = 0; i < 500; i += 1) {
      const [a, b] = [
        { x: between(0, 100), y: between(0, 100) },
        { x: between(0, 100), y: between(0, 100) },
      ];
      const frame = frameBetween(a, b);
      expect(frameBetween(b, a)).toEqual(frame);
      expect(frameBetween({ x: a.x, y: b.y }, { x: b.x, y: a.y })).toEqual(frame);
    }
  });

  it('keeps its size when it is moved, and comes back where there is room', () => {
    for (let i = 0; i < 500; i += 1) {
      const frame = anyFrame();
      const [across, down] = [Math.round(between(-30, 30)), Math.round(between(-30, 30))];
      const moved = movedFrame(frame, across, down);
      expect([moved.width, moved.height]).toEqual([frame.width, frame.height]);
      const hadRoom = moved.left === frame.left + across && moved.top === frame.top + down;
      if (hadRoom) expect(movedFrame(moved, -across, -down)).toEqual(frame);
    }
  });

  it('takes a number that is said as it is, in whichever order numbers come', () => {
    for (let i = 0; i < 500; i += 1) {
      const frame = anyFrame();
      for (const name of ['left', 'top', 'width', 'height'] as const) {
        const isPlace = name === 'left' || name === 'top';
        const percent = Math.round(isPlace ? between(0, 95) : between(5, 100));
        const said = withNumber(frame, name, percent);
        expectGood(said);
        expect(said[name]).toBe(percent);
      }
    }
    expect(withNumber(withNumber(WHOLE_FRAME, 'left', 50), 'top', 12)).toEqual({
      left: 50,
      top: 12,
      width: 50,
      height: 88,
    });
  });

  it('keeps the opposite corner when one is moved', () => {
    const opposite = {
      'top left': 'bottom right',
      'top right': 'bottom left',
      'bottom right': 'top left',
      'bottom left': 'top right',
    } as const;
    for (let i = 0; i < 500; i += 1)
      for (const corner of TILE_CORNERS) {
        const frame = anyFrame();
        const changed = withCorner(frame, corner, { x: between(-50, 150), y: between(-50, 150) });
        expect(cornerOf(changed, opposite[corner])).toEqual(cornerOf(frame, opposite[corner]));
        expect(withCorner(frame, corner, cornerOf(frame, corner))).toEqual(frame);
      }
  });
});

describe('the tile of a frame', () => {
  it('is even, lies in a picture of any size, and is the frame within two pixels', () => {
    for (let i = 0; i < 400; i += 1) {
      const frame = anyFrame();
      const size = { widthPx: Math.round(between(40, 4000)), heightPx: Math.round(between(40, 3000)) };
      const tile = tileOf(frame, size, false);
      for (const px of [tile.leftPx, tile.topPx, tile.widthPx, tile.heightPx]) expect(px % 2).toBe(0);
      expect(tile.leftPx).toBeGreaterThanOrEqual(0);
      expect(tile.topPx).toBeGreaterThanOrEqual(0);
      expect(tile.widthPx).toBeGreaterThanOrEqual(2);
      expect(tile.heightPx).toBeGreaterThanOrEqual(2);
      expect(tile.leftPx + tile.widthPx).toBeLessThanOrEqual(size.widthPx);
      expect(tile.topPx + tile.heightPx).toBeLessThanOrEqual(size.heightPx);
      expect(Math.abs(tile.leftPx - (frame.left * size.widthPx) / 100)).toBeLessThanOrEqual(2);
      expect(
        Math.abs(tile.leftPx + tile.widthPx - ((frame.left + frame.width) * size.widthPx) / 100),
      ).toBeLessThanOrEqual(2);
      expect(
        Math.abs(tile.topPx + tile.heightPx - ((frame.top + frame.height) * size.heightPx) / 100),
      ).toBeLessThanOrEqual(2);
    }
  });

  it('belongs to pictures of the size in which it was framed only', () => {
    const tile = tileOf(WHOLE_FRAME, { widthPx: 1280, heightPx: 720 }, true);
    expect(tile).toMatchObject({ leftPx: 0, topPx: 0, widthPx: 1280, heightPx: 720, isMirrored: true });
    expect(isTileOf(tile, { widthPx: 1280, heightPx: 720 })).toBe(true);
    expect(isTileOf(tile, { widthPx: 1280, heightPx: 722 })).toBe(false);
    expect(isTileOf(tile, { widthPx: 640, heightPx: 720 })).toBe(false);
  });
});
