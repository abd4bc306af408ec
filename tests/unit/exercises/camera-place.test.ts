import { describe, expect, it } from 'vitest';
import { cameraPlace, mustBeInView } from '../../../src/core/exercises/camera-place.ts';
import { EXERCISES } from '../../../src/core/exercises/exercise.ts';

describe('where the camera stands', () => {
  it('lets all that an exercise needs into a picture of 16 to 9 with the assumed field of view', () => {
    // By hand: tan(31 deg) * 9 / 16 = 0.3380 is half the picture's height at one metre.
    for (const [exercise, needM] of [
      ['hold', 0.63 * 1.9],
      ['free-curl', 0.63 * 1.9],
      ['body-curl', 1.9],
    ] as const) {
      const { distanceM } = cameraPlace(exercise, 190);
      expect(2 * 0.338 * distanceM, exercise).toBeGreaterThan(needM);
      expect(2 * 0.338 * (distanceM - 0.5), exercise).toBeLessThan(1.25 * needM);
    }
  });

  it('is further away for a taller person and for a whole body, and within a room', () => {
    expect(cameraPlace('body-curl', 195).distanceM).toBeGreaterThanOrEqual(
      cameraPlace('body-curl', 150).distanceM,
    );
    expect(cameraPlace('body-curl', null).distanceM).toBeGreaterThan(cameraPlace('hold', null).distanceM);
    for (const exercise of EXERCISES) expect(cameraPlace(exercise, 250).distanceM).toBeLessThanOrEqual(5);
  });

  it('asks for the feet only where curl and row are told apart', () => {
    expect(EXERCISES.filter((exercise) => mustBeInView(exercise).includes('feet'))).toEqual(['body-curl']);
  });
});
