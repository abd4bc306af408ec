import { describe, expect, it } from 'vitest';
import { measuredOverlay } from '../../../src/core/pose/figure-overlay.ts';
import type { GatedPose } from '../../../src/core/pose/gate.ts';
import { LANDMARK_NAMES, sidedIndex, type Side } from '../../../src/core/pose/landmark.ts';
import type { PoseFrame } from '../../../src/core/pose/pose-frame.ts';
import { sidedPose } from '../../../src/core/pose/sided-pose.ts';

const WIDTH_PX = 640;

/** A standing person seen from the treated side, with one wrist's visibility to choose; pixels, y down. */
function standing(side: Side, wristVisibility: number): PoseFrame {
  const toward = side === 'right' ? 1 : -1;
  const at = (x: number, y: number, visibility = 0.99) => ({ x: 320 + toward * x, y, visibility });
  const places = new Map([
    ['nose', at(25, 90)],
    ['shoulder', at(0, 140)],
    ['elbow', at(2, 200)],
    ['wrist', at(50, 205, wristVisibility)],
    ['hip', at(0, 240)],
    ['heel', at(-5, 430)],
    ['foot_index', at(30, 435)],
  ]);
  const image = LANDMARK_NAMES.map((name) => places.get(name.replace(/^(left|right)_/, '')) ?? at(5, 90));
  const world = LANDMARK_NAMES.map((name) => ({ x: 0, y: 0, z: name.startsWith(side) ? -0.2 : 0.2 }));
  return {
    timeSeconds: 0,
    widthPx: WIDTH_PX,
    heightPx: 480,
    pose: { image, world },
    people: 1,
    brightness: null,
  };
}

/** What the gate hands on, with or without a reason not to believe it. */
function gated(frame: PoseFrame, side: Side, doubt: Partial<GatedPose> = {}): GatedPose {
  const pose = frame.pose && sidedPose(frame.pose, side, frame.widthPx);
  return {
    pose,
    reason: null,
    armOnly: false,
    exchanged: false,
    resetTracker: false,
    restart: false,
    ...doubt,
  };
}

const overlayOf = (frame: PoseFrame, side: Side, doubt?: Partial<GatedPose>) =>
  measuredOverlay(gated(frame, side, doubt), side, WIDTH_PX);

describe('the figure drawn on the picture', () => {
  it.each(['left', 'right'] as const)('stands where the landmarks of the %s arm are', (side) => {
    const frame = standing(side, 0.99);
    const overlay = overlayOf(frame, side);
    for (const joint of ['shoulder', 'elbow', 'wrist', 'hip'] as const) {
      const landmark = frame.pose?.image[sidedIndex(side, joint)];
      expect(overlay[joint]).toMatchObject({ x: landmark?.x, y: landmark?.y, certainty: 'measured' });
    }
  });

  it('draws an uncertain joint hollow and leaves out one that is a guess', () => {
    expect(overlayOf(standing('right', 0.4), 'right').wrist?.certainty).toBe('uncertain');
    expect(overlayOf(standing('right', 0.05), 'right').wrist).toBeNull();
  });

  it('draws nothing when nobody is there, or when nothing of the picture is believed', () => {
    const empty: PoseFrame = { ...standing('right', 0.99), pose: null };
    const jumped = { reason: 'tracking-jump' } as const;
    for (const overlay of [overlayOf(empty, 'right'), overlayOf(standing('right', 0.99), 'right', jumped)]) {
      expect(Object.values(overlay).every((joint) => joint === null)).toBe(true);
    }
  });

  it('keeps the trunk solid when only the arm is in doubt', () => {
    const doubt = { reason: 'arm-not-seen', armOnly: true } as const;
    const { shoulder, elbow, hip } = overlayOf(standing('right', 0.99), 'right', doubt);
    expect([shoulder, hip, elbow].map((joint) => joint?.certainty)).toEqual([
      'measured',
      'measured',
      'uncertain',
    ]);
  });
});
