import { describe, expect, it } from 'vitest';
import { setupFacts } from '../../../src/core/pose/setup-facts.ts';
import { STANDING, SyntheticNetwork, transformed, withPose } from '../../helpers/synthetic-body.ts';

const frameOf = (options: ConstructorParameters<typeof SyntheticNetwork>[0] = {}) =>
  new SyntheticNetwork(options).frame(STANDING, 0);

describe('setupFacts', () => {
  it('finds nothing to change in a good view', () => {
    const facts = setupFacts({ ...frameOf(), people: 1, brightness: 120 }, 'left');
    expect(facts).toMatchObject({
      personFound: true,
      wholeArmInPicture: true,
      armSeen: true,
      trunkInPicture: true,
      legsInPicture: true,
      tooSmall: false,
      nearSide: 'treated',
      people: 1,
      brightness: 120,
    });
    expect(Math.abs(facts.yawDeg ?? NaN)).toBeLessThan(5);
    expect(facts.heightShare).toBeGreaterThan(0.5);
    expect(facts.heightShare).toBeLessThan(1);
  });

  it('says which side is near, by the side that is treated', () => {
    expect(setupFacts(frameOf({ side: 'right' }), 'right').nearSide).toBe('treated');
    expect(setupFacts(frameOf({ side: 'right' }), 'left').nearSide).toBe('other');
    expect(setupFacts(frameOf({ camera: { yawDeg: 90 } }), 'left').nearSide).toBe('unclear');
  });

  it('says what is cut off', () => {
    const low = transformed(frameOf(), (point) => ({ ...point, y: point.y + 250 }));
    expect(setupFacts(low, 'left')).toMatchObject({ wholeArmInPicture: false, trunkInPicture: false });
  });

  it('says too small, and nobody', () => {
    expect(setupFacts(frameOf({ camera: { distanceM: 16 } }), 'left').tooSmall).toBe(true);
    const empty = setupFacts(
      withPose(frameOf(), () => null),
      'left',
    );
    expect(empty).toMatchObject({ personFound: false, heightShare: null, yawDeg: null, nearSide: null });
  });
});
