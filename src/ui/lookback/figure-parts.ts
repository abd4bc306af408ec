import { GATE_LIMITS } from '../../core/pose/gate-limits.ts';
import { landmarkIndex, sidedIndex, type Side, type SidedLandmark } from '../../core/pose/landmark.ts';
import type { ImageLandmark } from '../../core/pose/pose-frame.ts';

/** Below this the network says that the point is hidden; drawing it would invent a limb (docs/measuring.md). */
const ABSENT_VISIBILITY = 0.2;

/** How a part is drawn: what was measured solid, what is uncertain hollow or dashed. */
type Certainty = 'measured' | 'uncertain';

/** A joint of the figure, pixels of the stored picture. */
interface Joint {
  readonly x: number;
  readonly y: number;
  readonly certainty: Certainty;
  readonly treated: boolean;
}

/** A segment of the figure between two joints. */
interface Segment {
  readonly from: Joint;
  readonly to: Joint;
  readonly treated: boolean;
  readonly certainty: Certainty;
}

/** What is drawn of one stored pose. */
export interface Figure {
  readonly head: Joint | null;
  readonly joints: readonly Joint[];
  readonly segments: readonly Segment[];
}

const LIMB_SEGMENTS: readonly (readonly [SidedLandmark, SidedLandmark])[] = [
  ['shoulder', 'hip'],
  ['hip', 'knee'],
  ['knee', 'ankle'],
  ['ankle', 'foot_index'],
];
const ARM_SEGMENTS: readonly (readonly [SidedLandmark, SidedLandmark])[] = [
  ['shoulder', 'elbow'],
  ['elbow', 'wrist'],
  ['wrist', 'index'],
];
const ACROSS: readonly SidedLandmark[] = ['shoulder', 'hip'];
const TREATED_JOINTS: readonly SidedLandmark[] = ['shoulder', 'elbow', 'wrist'];
const OTHER_JOINTS: readonly SidedLandmark[] = ['hip', 'knee', 'ankle'];

/**
 * The figure of one stored pose. treatedMeasured says whether the treated elbow counted as measured in this frame:
 * when it did not, the whole treated arm is drawn as uncertain, however sure the network was. Hidden points are left
 * out, and with them the segments that end there.
 */
export function figureOf(
  landmarks: readonly ImageLandmark[],
  treatedSide: Side,
  treatedMeasured: boolean,
): Figure {
  const jointAt = (index: number, treated: boolean): Joint | null => {
    const landmark = landmarks[index];
    if (!landmark || landmark.visibility < ABSENT_VISIBILITY) return null;
    const seen = landmark.visibility >= GATE_LIMITS.seenVisibility && (!treated || treatedMeasured);
    return { x: landmark.x, y: landmark.y, treated, certainty: seen ? 'measured' : 'uncertain' };
  };
  const segments: Segment[] = [];
  const join = (from: Joint | null, to: Joint | null, treated: boolean): void => {
    if (!from || !to) return;
    const both = from.certainty === 'measured' && to.certainty === 'measured';
    segments.push({ from, to, treated, certainty: both ? 'measured' : 'uncertain' });
  };
  for (const part of ACROSS) {
    join(jointAt(sidedIndex('left', part), false), jointAt(sidedIndex('right', part), false), false);
  }
  const sides: readonly Side[] = treatedSide === 'left' ? ['right', 'left'] : ['left', 'right'];
  for (const side of sides) {
    for (const [from, to] of LIMB_SEGMENTS) {
      join(jointAt(sidedIndex(side, from), false), jointAt(sidedIndex(side, to), false), false);
    }
    const treated = side === treatedSide;
    for (const [from, to] of ARM_SEGMENTS) {
      join(jointAt(sidedIndex(side, from), treated), jointAt(sidedIndex(side, to), treated), treated);
    }
  }
  const joints = [
    ...OTHER_JOINTS.map((part) => jointAt(sidedIndex(treatedSide, part), false)),
    ...TREATED_JOINTS.map((part) => jointAt(sidedIndex(treatedSide, part), true)),
  ].filter((joint) => joint !== null);
  return { head: jointAt(landmarkIndex('nose'), false), joints, segments };
}
