import { describe, expect, it } from 'vitest';
import { PackedPieces } from '../../../src/core/session/packed-pieces.ts';
import { encodeFrames, type FrameSeries } from '../../../src/core/session/quantised-frames.ts';
import { costSet, CURLING } from '../../../scripts/cost/cost-set.ts';

function packed(...pieces: readonly FrameSeries[]): PackedPieces {
  const all = new PackedPieces();
  for (const piece of pieces) all.push(piece);
  return all;
}

describe('PackedPieces', () => {
  const frames = costSet(CURLING, 2);
  const piece = encodeFrames(frames);

  it('gives back every piece as it came, again and again', () => {
    const second = encodeFrames(
      frames.slice(0, 7).map((frame) => ({ ...frame, people: 2, brightness: null })),
    );
    const pieces = packed(piece, second);
    expect(pieces.length).toBe(2);
    expect([...pieces]).toEqual([piece, second]);
    expect([...pieces]).toEqual([piece, second]);
  });

  it('keeps frames in which nobody was found', () => {
    const some = encodeFrames(frames.map((frame, i) => (i % 3 === 0 ? { ...frame, pose: null } : frame)));
    expect([...packed(some)]).toEqual([some]);
    const none = encodeFrames(frames.map((frame) => ({ ...frame, pose: null })));
    expect([...packed(none)]).toEqual([none]);
  });

  it.each([0, 1, -1, 63, 64, -64, -65, 8191, 8192, 38_400, -38_400, 2 ** 31, -(2 ** 33), 2 ** 40])(
    'keeps a number of any size: %d',
    (value) => {
      const changed = { ...piece, timeTenthMs: piece.timeTenthMs.with(0, value) };
      expect([...packed(changed)]).toEqual([changed]);
    },
  );
});
