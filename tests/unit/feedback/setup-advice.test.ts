import { describe, expect, it } from 'vitest';
import { setupAdvice, type SetupFinding } from '../../../src/core/feedback/setup-advice.ts';
import type { SetupFacts } from '../../../src/core/pose/setup-facts.ts';

const GOOD: SetupFacts = {
  personFound: true,
  wholeArmInPicture: true,
  armSeen: true,
  trunkInPicture: true,
  legsInPicture: true,
  heightShare: 0.7,
  upperArmPx: 90,
  tooSmall: false,
  yawDeg: 5,
  nearSide: 'treated',
  people: 1,
  brightness: 120,
};

const CASES: readonly (readonly [SetupFinding, Partial<SetupFacts>])[] = [
  ['good', {}],
  ['good', { people: null, brightness: null }],
  ['too-dark', { brightness: 20 }],
  ['too-dark', { brightness: 20, personFound: false }],
  ['nobody', { personFound: false }],
  ['several-people', { people: 2 }],
  ['too-far', { tooSmall: true }],
  ['arm-cut-off', { wholeArmInPicture: false }],
  ['trunk-cut-off', { trunkInPicture: false }],
  ['other-side-near', { nearSide: 'other' }],
  ['too-oblique', { yawDeg: -60 }],
  ['arm-hidden', { armSeen: false }],
  ['too-bright', { brightness: 240 }],
  ['rather-oblique', { yawDeg: 40 }],
  ['rather-oblique', { yawDeg: null }],
  ['rather-far', { upperArmPx: 30 }],
];

describe('the set-up check', () => {
  it.each(CASES)('finds %s in %j', (finding, change) => {
    const advice = setupAdvice({ ...GOOD, ...change }, 'left', 'hold');
    expect(advice.finding).toBe(finding);
    expect(advice.isGood).toBe(finding === 'good');
  });

  it.each(CASES)('says one sentence that ends with a full stop: %s', (_finding, change) => {
    const { sentence } = setupAdvice({ ...GOOD, ...change }, 'right', 'hold');
    expect(sentence.match(/[.!?]/g)).toEqual(['.']);
    expect(sentence.endsWith('.')).toBe(true);
  });

  it('names the treated arm as the person would', () => {
    expect(setupAdvice({ ...GOOD, nearSide: 'other' }, 'left', 'hold').sentence).toContain('your left arm');
    expect(setupAdvice({ ...GOOD, nearSide: 'other' }, 'right', 'hold').sentence).toContain('your right arm');
  });

  it('says the graver fault first when there are several', () => {
    const many = {
      ...GOOD,
      personFound: true,
      people: 2,
      tooSmall: true,
      yawDeg: 70,
      nearSide: 'other',
    } as const;
    expect(setupAdvice(many, 'left', 'hold').finding).toBe('several-people');
  });

  it('tells front from back', () => {
    expect(setupAdvice({ ...GOOD, yawDeg: 60 }, 'left', 'hold').sentence).toContain('front');
    expect(setupAdvice({ ...GOOD, yawDeg: -60 }, 'left', 'hold').sentence).toContain('back');
  });
});

describe('what an exercise needs in view', () => {
  const noFeet = { ...GOOD, legsInPicture: false };

  it('is the feet for a body-moving curl, and not for a hold', () => {
    expect(setupAdvice(noFeet, 'left', 'body-curl').finding).toBe('feet-cut-off');
    expect(setupAdvice(noFeet, 'left', 'hold').finding).toBe('good');
  });

  it.each(CASES)('is told in 15 letters: %s', (_finding, change) => {
    expect(setupAdvice({ ...GOOD, ...change }, 'left', 'body-curl').short.length).toBeLessThanOrEqual(15);
  });
});
