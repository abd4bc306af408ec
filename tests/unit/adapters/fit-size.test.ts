import { describe, expect, it } from 'vitest';
import { fitSize } from '../../../src/adapters/frames/fit-size.ts';

describe('the size of a picture that is handed on', () => {
  it.each([
    [3840, 2160, 1280, 720],
    [1080, 1920, 720, 1280],
    [640, 480, 640, 480],
    [1280, 1, 1280, 1],
    [4000, 1, 1280, 1],
  ])('of %i x %i is %i x %i', (width, height, fittedWidth, fittedHeight) => {
    expect(fitSize(width, height)).toEqual({ width: fittedWidth, height: fittedHeight });
  });
});
