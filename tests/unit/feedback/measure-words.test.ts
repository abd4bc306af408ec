import { describe, expect, test } from 'vitest';
import {
  durationWords,
  figureWords,
  FORMS,
  intervalWords,
  measuredWords,
  momentWords,
  reasonWords,
  valueWords,
} from '../../../src/core/feedback/measure-words.ts';
import { estimate, NOT_MEASURED_REASONS, notMeasured } from '../../../src/core/kinematics/measured.ts';

describe('a measured value in words', () => {
  test('stands with its unit and its even interval', () => {
    expect(measuredWords(estimate(92.3, 4), FORMS.angleDeg)).toBe('92 deg ± 4');
  });

  test('shows both ends when the interval is not even', () => {
    expect(measuredWords({ value: -3, low: -9, high: 1 }, FORMS.angleDeg)).toBe('−3 deg (−9 to 1)');
  });

  test('never shows the interval narrower than it is', () => {
    expect(intervalWords(estimate(90, 4.01), FORMS.angleDeg)).toBe('± 5');
    expect(intervalWords(estimate(90, 4), FORMS.angleDeg)).toBe('± 4');
    expect(intervalWords(estimate(90, 0.2), FORMS.angleDeg)).toBe('± 1');
  });

  test('shows a share as per cent, interval included', () => {
    expect(measuredWords(estimate(0.35, 0.08), FORMS.share)).toBe('35 % ± 8');
  });

  test('takes decimals as the error allows: angles whole, holds a tenth, travel whole centimetres', () => {
    expect(valueWords(91.49, FORMS.angleDeg)).toBe('91 deg');
    expect(valueWords(12.34, FORMS.seconds)).toBe('12.3 s');
    expect(valueWords(37.6, FORMS.travelCm)).toBe('38 cm');
    expect(valueWords(0.123, FORMS.upperArms)).toBe('0.12 upper-arm lengths');
  });

  test('has no minus before a figure that rounds to nought', () => {
    expect(figureWords(-0.4, FORMS.angleDeg)).toBe('0');
    expect(figureWords(-0.6, FORMS.angleDeg)).toBe('−1');
  });

  test('leaves the interval out where there is none', () => {
    expect(measuredWords(estimate(2, 0), FORMS.seconds)).toBe('2.0 s');
  });

  test.each(NOT_MEASURED_REASONS)('says why when there is none: %s', (reason) => {
    const words = measuredWords(notMeasured(reason), FORMS.angleDeg);
    expect(words).toBe(`not measured: ${reasonWords(reason)}`);
    expect(words).not.toMatch(/\d|undefined|-/);
  });
});

describe('moments and lengths of time', () => {
  test.each([
    [0, '0.00 s'],
    [4.204, '4.20 s'],
    [59.994, '59.99 s'],
    [59.999, '1:00.00'],
    [64.2, '1:04.20'],
    [3725.5, '62:05.50'],
  ])('the moment %d reads %s', (seconds, words) => {
    expect(momentWords(seconds)).toBe(words);
  });

  test.each([
    [42.4, '42 s'],
    [59.6, '1 min'],
    [185, '3 min 5 s'],
    [3599.6, '1 h 0 min'],
    [7199, '2 h 0 min'],
  ])('a length of %d seconds reads %s', (seconds, words) => {
    expect(durationWords(seconds)).toBe(words);
  });
});
