import { describe, expect, it } from 'vitest';
import { sidedPose } from '../../../src/core/pose/sided-pose.ts';
import { bodyYawDeg, cameraPitchDeg, nearSideEvidence } from '../../../src/core/pose/viewpoint.ts';
import { exchangeLabels } from '../../../src/core/pose/exchange-labels.ts';
import { STANDING, SyntheticNetwork, type Posture } from '../../helpers/synthetic-body.ts';

const seen = (yawDeg: number, side: 'left' | 'right' = 'left', posture: Posture = STANDING) => {
  const network = new SyntheticNetwork({ side, camera: { yawDeg } });
  return { network, pose: sidedPose(network.pose(posture), side, network.camera.widthPx) };
};

describe('cameraPitchDeg', () => {
  const pitched = (pitchDeg: number, yawDeg: number, posture: Posture = STANDING) => {
    const network = new SyntheticNetwork({ camera: { pitchDeg, yawDeg } });
    return cameraPitchDeg(sidedPose(network.pose(posture), 'left', network.camera.widthPx), yawDeg);
  };

  it.each([-12, 0, 12])(
    'finds a camera that looks down by %d deg, less what the depth is compressed',
    (pitchDeg) => {
      for (const yawDeg of [-30, 0, 30]) {
        expect(Math.abs((pitched(pitchDeg, yawDeg) ?? NaN) - pitchDeg)).toBeLessThan(4);
      }
    },
  );

  it('takes a person’s own leaning for no pitch', () => {
    expect(Math.abs(pitched(0, 40, { ...STANDING, trunkLeanDeg: 15 }) ?? NaN)).toBeLessThan(3);
  });

  it('says nothing of a body that lies', () => {
    expect(pitched(0, 0, { ...STANDING, trunkLeanDeg: -80, hipAngleDeg: 180 })).toBeNull();
  });
});

describe('bodyYawDeg', () => {
  it.each([-45, -30, -15, 0, 15, 30, 45])('finds a camera turned by %d deg within 7', (yawDeg) => {
    for (const side of ['left', 'right'] as const) {
      expect(Math.abs((bodyYawDeg(seen(yawDeg, side).pose) ?? NaN) - yawDeg)).toBeLessThan(7);
    }
  });

  it('finds the turn of a body that lies on its back, whose trunk the turn shortens too', () => {
    const lying = { ...STANDING, trunkLeanDeg: -80, pelvisUpM: 0.5 };
    for (const yawDeg of [0, 20, 40]) {
      expect(Math.abs((bodyYawDeg(seen(yawDeg, 'left', lying).pose) ?? NaN) - yawDeg)).toBeLessThan(8);
    }
  });

  it('tells a view from the front, and one with the other side near', () => {
    const front = bodyYawDeg(seen(85).pose) ?? NaN;
    expect(front).toBeGreaterThan(65);
    expect(Math.abs(bodyYawDeg(seen(180).pose) ?? NaN)).toBeGreaterThan(120);
  });
});

describe('nearSideEvidence', () => {
  it('says which side is near, standing or lying on the back', () => {
    for (const trunkLeanDeg of [0, 40, -75]) {
      const posture = { ...STANDING, trunkLeanDeg, pelvisUpM: 0.8 };
      expect(nearSideEvidence(seen(10, 'right', posture).pose).score).toBeGreaterThan(0.5);
      expect(nearSideEvidence(seen(180, 'right', posture).pose).score).toBeLessThan(-0.5);
    }
  });

  it('has head and feet contradict depth and visibility when left and right are exchanged', () => {
    const { network } = seen(0);
    const pose = sidedPose(exchangeLabels(network.pose(STANDING)), 'left', network.camera.widthPx);
    const { facing, labels } = nearSideEvidence(pose);
    expect(facing).toBeGreaterThan(0.5);
    expect(labels).toBeLessThan(-0.5);
  });
});
