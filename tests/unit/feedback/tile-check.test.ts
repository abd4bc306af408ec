import { describe, expect, it } from 'vitest';
import { sharedAdvice } from '../../../src/core/feedback/shared-advice.ts';
import { setupAdvice } from '../../../src/core/feedback/setup-advice.ts';
import {
  CALL_LIMITS,
  TILE_LIMITS,
  tileFindings,
  type TileSight,
} from '../../../src/core/feedback/tile-check.ts';
import { FIT_LIMITS } from '../../../src/core/pose/fit-limits.ts';
import { GATE_LIMITS } from '../../../src/core/pose/gate-limits.ts';
import { setupFacts } from '../../../src/core/pose/setup-facts.ts';

const GOOD: TileSight = { upperArmPx: 80, rateHz: 20, longestPauseSeconds: 0.1, capacityHz: 40 };

function about(what: 'Size' | 'Rate' | 'Freezes', change: Partial<TileSight>) {
  const found = tileFindings({ ...GOOD, ...change }).find((finding) => finding.what === what);
  if (found === undefined) throw new Error(`nothing about ${what}`);
  return found;
}

describe('the tile of a call', () => {
  it('is good where it is large, quick and steady', () => {
    expect(tileFindings(GOOD).map(({ what, role }) => [what, role])).toEqual([
      ['Size', 'within'],
      ['Rate', 'within'],
      ['Freezes', 'within'],
    ]);
  });

  it('is judged by the same size below which nothing is measured, and says where little is to spare', () => {
    expect(about('Size', { upperArmPx: GATE_LIMITS.leastUpperArmPx - 1 }).sentence).toContain(
      'nothing is measured',
    );
    expect(about('Size', { upperArmPx: GATE_LIMITS.leastUpperArmPx }).sentence).toContain('little to spare');
    expect(about('Size', { upperArmPx: TILE_LIMITS.goodUpperArmPx }).role).toBe('within');
    expect(TILE_LIMITS.shownUpperArmPx).toBeGreaterThanOrEqual(GATE_LIMITS.leastUpperArmPx);
    expect(TILE_LIMITS.goodUpperArmPx).toBeGreaterThanOrEqual(1.5 * TILE_LIMITS.shownUpperArmPx);
  });

  it('says whether the call or the machine gives too few pictures', () => {
    expect(about('Rate', { rateHz: FIT_LIMITS.leastRateHz - 1 })).toMatchObject({ role: 'attention' });
    expect(about('Rate', { rateHz: 7, capacityHz: 40 }).sentence).toContain('as the call shows');
    expect(about('Rate', { rateHz: 7, capacityHz: 8 }).sentence).toContain('as this machine can measure');
    expect(about('Rate', { rateHz: 9 }).sentence).toContain('coarse');
  });

  it('says freezes from the pause on after which places before say nothing', () => {
    expect(about('Freezes', { longestPauseSeconds: 0.59 }).role).toBe('within');
    expect(about('Freezes', { longestPauseSeconds: 2.34 })).toMatchObject({
      role: 'attention',
      sentence: expect.stringContaining('2.3 s'),
    });
    expect(about('Freezes', { rateHz: null, longestPauseSeconds: 10 }).role).toBe('attention');
  });

  it('claims nothing before it is seen', () => {
    const nothing = { upperArmPx: null, rateHz: null, longestPauseSeconds: 0, capacityHz: null };
    expect(tileFindings(nothing).every(({ role }) => role === 'quiet')).toBe(true);
  });

  it('says the limits in whole sentences', () => {
    for (const limit of CALL_LIMITS) expect(limit).toMatch(/\.$/);
    expect(CALL_LIMITS.join(' ')).toMatch(/compresses.*late.*background/s);
  });
});

describe('advice about a call’s picture', () => {
  const nobody = { timeSeconds: 0, widthPx: 640, heightPx: 480, pose: null, people: 0, brightness: 100 };

  it('is for whoever looks on, and keeps what was found', () => {
    const own = setupAdvice(setupFacts(nobody, 'left'), 'left', 'hold');
    const shared = sharedAdvice(own, 'left');
    expect(shared).toMatchObject({ finding: 'nobody', isGood: false, isUsable: false, short: own.short });
    expect(shared.sentence).toContain('Frame the person');
  });

  it('takes a black picture for a window that is minimised', () => {
    const black = setupAdvice(setupFacts({ ...nobody, brightness: 0 }, 'left'), 'left', 'hold');
    expect(sharedAdvice(black, 'left').sentence).toContain('minimised');
  });

  it('names the arm of the treated side, and that a mirror swaps it', () => {
    const far = {
      ...setupAdvice(setupFacts(nobody, 'right'), 'right', 'hold'),
      finding: 'other-side-near',
    } as const;
    expect(sharedAdvice(far, 'right').sentence).toMatch(/their right arm.*mirror/);
  });
});
