import { describe, expect, it } from 'vitest';
import { arcMinutes, furthestM, tableOf } from '../../../scripts/three-metres/visual-angle.ts';

/** CSS pixels of a height in millimetres on the laptop: 1280 of them on 13 inches of 16 to 10, 280.0 mm wide by hand. */
const px = (mm: number): number => (mm * 1280) / 280;

describe('the visual angle of what is shown', () => {
  it('is 40 arc minutes for 35 mm and 22 for 19 mm at three metres, by hand from 2 atan(h / 2d)', () => {
    expect(arcMinutes(px(35), 'laptop')).toBeCloseTo(40.1, 1);
    expect(arcMinutes(px(19), 'laptop')).toBeCloseTo(21.8, 1);
  });

  it('tells how far away a height still has it', () => {
    const heightPx = px(35);
    expect(furthestM(heightPx, 'laptop', arcMinutes(heightPx, 'laptop'))).toBeCloseTo(3, 6);
    expect(furthestM(heightPx, 'laptop', 20)).toBeGreaterThan(5.9);
  });

  it('misses its goal for what is small or faint, and only on the laptop for what is small', () => {
    const good = {
      screen: 'laptop',
      theme: 'light',
      state: 's',
      kind: 'figure',
      words: '9',
      heightPx: px(40),
      contrast: 9,
    } as const;
    expect(tableOf([good]).isMissed).toBe(false);
    expect(tableOf([good, { ...good, heightPx: px(30) }]).isMissed).toBe(true);
    expect(tableOf([{ ...good, contrast: 6.9 }]).isMissed).toBe(true);
    expect(tableOf([{ ...good, screen: 'phone upright', heightPx: 10 }]).isMissed).toBe(false);
  });
});
