import { describe, expect, it } from 'vitest';
import { competingPeople, followsNobody } from '../../../src/core/pose/people.ts';
import type { DetectedPerson } from '../../../src/core/pose/person-detector.ts';
import { STANDING, SyntheticNetwork } from '../../helpers/synthetic-body.ts';

/** A standing person whose hips are at x, 300; 240 pixels from hips to feet. */
const standingAt = (x: number, bodyRadiusPx = 240, score = 0.9): DetectedPerson => ({
  score,
  midHip: { x, y: 300 },
  midShoulder: { x, y: 300 - 0.55 * bodyRadiusPx },
  onCircle: { x, y: 300 - bodyRadiusPx },
  bodyRadiusPx,
});

describe('counting people', () => {
  it('counts two people side by side as two', () => {
    expect(competingPeople([standingAt(200), standingAt(420)])).toHaveLength(2);
  });

  it('counts one body that was found twice once', () => {
    expect(competingPeople([standingAt(200), standingAt(215, 235, 0.6)])).toHaveLength(1);
  });

  it('leaves out somebody far behind', () => {
    expect(competingPeople([standingAt(200), standingAt(420, 60)])).toEqual([standingAt(200)]);
  });

  it('counts nobody where nobody was found', () => {
    expect(competingPeople([])).toEqual([]);
  });
});

describe('noticing a tracker that follows nobody', () => {
  const pose = new SyntheticNetwork({}).pose(STANDING);
  const middle = (a: number, b: number) => ({
    x: ((pose.image[a]?.x ?? 0) + (pose.image[b]?.x ?? 0)) / 2,
    y: ((pose.image[a]?.y ?? 0) + (pose.image[b]?.y ?? 0)) / 2,
  });
  // Landmarks 11 and 12 are the shoulders, 23 and 24 the hips (BlazePose topology).
  const midShoulder = middle(11, 12);
  const midHip = middle(23, 24);
  const trunkPx = Math.hypot(midShoulder.x - midHip.x, midShoulder.y - midHip.y);
  const bodyRadiusPx = 1.9 * trunkPx;
  const onCircle = { x: midHip.x, y: midHip.y - bodyRadiusPx };
  const trackedPerson: DetectedPerson = { score: 0.9, midHip, midShoulder, onCircle, bodyRadiusPx };
  const moved = (dx: number): DetectedPerson => ({
    ...trackedPerson,
    midHip: { x: midHip.x + dx, y: midHip.y },
    midShoulder: { x: midShoulder.x + dx, y: midShoulder.y },
  });

  it('believes a tracker that follows one of several people', () => {
    expect(followsNobody(pose, [moved(5 * trunkPx), moved(0.3 * trunkPx)])).toBe(false);
  });

  it('notices a tracker a trunk length and more away from everybody', () => {
    expect(followsNobody(pose, [moved(1.5 * trunkPx), moved(-3 * trunkPx)])).toBe(true);
  });

  it('notices landmarks that still stand where the person now lies', () => {
    const lying: DetectedPerson = {
      ...trackedPerson,
      midShoulder: { x: midHip.x + trunkPx, y: midHip.y },
    };
    expect(followsNobody(pose, [lying])).toBe(true);
  });

  it('says nothing against the tracker when the finder sees nobody', () => {
    expect(followsNobody(pose, [])).toBe(false);
  });
});
