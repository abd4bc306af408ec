import { describe, expect, it } from 'vitest';
import { combinePoses, type FoundByLook, type Look, LOOKS } from '../../../src/core/pose/combine-poses.ts';
import { exchangeLabels } from '../../../src/core/pose/exchange-labels.ts';
import { sidedIndex, type SidedLandmark } from '../../../src/core/pose/landmark.ts';
import type { Pose } from '../../../src/core/pose/pose-frame.ts';
import { STANDING, SyntheticNetwork } from '../../helpers/synthetic-body.ts';

const seen = new SyntheticNetwork({ side: 'left', camera: { yawDeg: 35 } }).pose({
  ...STANDING,
  elbowFlexionDeg: 90,
});
const all: FoundByLook = { full: seen, fullMirrored: seen, heavy: seen };

function moved(pose: Pose, xPx: number, landmarks?: readonly SidedLandmark[]): Pose {
  const which = landmarks?.map((landmark) => sidedIndex('left', landmark));
  return {
    image: pose.image.map((point, i) =>
      (which?.includes(i) ?? true) ? { ...point, x: point.x + xPx } : point,
    ),
    world: pose.world.map((point, i) =>
      (which?.includes(i) ?? true) ? { ...point, z: point.z + xPx / 100 } : point,
    ),
  };
}

const at = (pose: Pose | null, landmark: SidedLandmark, side: 'left' | 'right' = 'left') => {
  const point = pose?.image[sidedIndex(side, landmark)];
  if (point === undefined) throw new Error(`no ${landmark}`);
  return point;
};

const trunkPx = Math.hypot(
  at(seen, 'shoulder').x - at(seen, 'hip').x,
  at(seen, 'shoulder').y - at(seen, 'hip').y,
);

/** Largest distance of a landmark of one pose from the same of another, trunk lengths. */
function farthest(a: Pose | null, b: Pose): number {
  if (a === null) return Infinity;
  return Math.max(
    ...a.image.map(
      ({ x, y }, i) => Math.hypot(x - (b.image[i]?.x ?? NaN), y - (b.image[i]?.y ?? NaN)) / trunkPx,
    ),
  );
}

describe('combined poses', () => {
  it('are the pose itself where all looks agree', () => {
    const { pose, astray } = combinePoses(all);
    expect(farthest(pose, seen)).toBeLessThan(1e-9);
    expect(pose?.world[sidedIndex('left', 'wrist')]?.z).toBeCloseTo(
      seen.world[sidedIndex('left', 'wrist')]?.z ?? NaN,
      9,
    );
    expect(astray).toEqual([]);
  });

  it('lie nearest to what heavy says, and heed the others', () => {
    const small = 0.02 * trunkPx;
    const places = (Object.keys(all) as Look[]).map((look) => {
      const { pose } = combinePoses({ ...all, [look]: moved(seen, small) });
      return [look, (at(pose, 'elbow').x - at(seen, 'elbow').x) / small] as const;
    });
    const { full, fullMirrored, heavy } = Object.fromEntries(places);
    expect(full).toBeCloseTo(fullMirrored ?? NaN, 6);
    expect(full).toBeGreaterThan(0.1);
    expect(heavy).toBeGreaterThan(0.6);
    expect((full ?? 0) + (fullMirrored ?? 0) + (heavy ?? 0)).toBeCloseTo(1, 1);
  });

  it.each(LOOKS)('keep the sides where %s has exchanged all of them', (look) => {
    const { pose } = combinePoses({ ...all, [look]: exchangeLabels(seen) });
    expect(farthest(pose, seen)).toBeLessThan(1e-9);
  });

  it.each(LOOKS)('keep the arms where %s has exchanged them alone', (look) => {
    const arms = ['elbow', 'wrist', 'pinky', 'index', 'thumb'] as const;
    const { pose } = combinePoses({ ...all, [look]: exchangeLabels(seen, arms) });
    expect(farthest(pose, seen)).toBeLessThan(1e-9);
  });

  it.each(LOOKS)('keep the arm where the two agree when %s has lost it', (look) => {
    const lost = moved(seen, trunkPx, ['elbow', 'wrist', 'pinky', 'index', 'thumb']);
    const { pose, astray } = combinePoses({ ...all, [look]: lost });
    expect(farthest(pose, seen)).toBeLessThan(0.03);
    expect(astray).toEqual([]);
  });

  it.each(LOOKS)('leave %s out where it follows somebody else, and say so', (look) => {
    const { pose, astray } = combinePoses({ ...all, [look]: moved(seen, 1.5 * trunkPx) });
    expect(farthest(pose, seen)).toBeLessThan(1e-9);
    expect(astray).toEqual([look]);
  });

  it.each(LOOKS)('are of the other two where %s finds nobody', (look) => {
    expect(farthest(combinePoses({ ...all, [look]: null }).pose, seen)).toBeLessThan(1e-9);
  });

  it.each(LOOKS)('are none where %s alone finds somebody, who is searched afresh', (look) => {
    const nobody = { full: null, fullMirrored: null, heavy: null };
    expect(combinePoses({ ...nobody, [look]: seen })).toEqual({ pose: null, astray: [look] });
  });

  it('bear heavy’s labels where full alone contradicts it', () => {
    const { pose } = combinePoses({ full: exchangeLabels(seen), fullMirrored: null, heavy: seen });
    expect(farthest(pose, seen)).toBeLessThan(1e-9);
  });

  it('do not jump while a look leaves the others', () => {
    const shifts = Array.from({ length: 41 }, (_, i) => i / 20);
    const places = shifts.map((trunks) => {
      const heavy = moved(seen, trunks * trunkPx, ['elbow', 'wrist', 'pinky', 'index', 'thumb']);
      return at(combinePoses({ ...all, heavy }).pose, 'wrist').x / trunkPx;
    });
    const steps = places.slice(1).map((place, i) => Math.abs(place - (places[i] ?? NaN)));
    expect(Math.max(...steps)).toBeLessThanOrEqual(0.05);
  });
});
