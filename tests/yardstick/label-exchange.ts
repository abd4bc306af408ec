import { exchangeLabels } from '../../src/core/pose/exchange-labels.ts';
import { LANDMARK_NAMES, type SidedLandmark } from '../../src/core/pose/landmark.ts';
import type { Pose } from '../../src/core/pose/pose-frame.ts';
import { SIDED_LANDMARKS } from '../../src/core/pose/sided-pose.ts';
import { jointOf, type TrueMoment } from './truth.ts';

/** Landmarks whose left and right the network exchanges together: all, an arm, or a hand. */
const HAND = ['wrist', 'pinky', 'index', 'thumb'] as const;
const GROUPS: readonly (readonly SidedLandmark[])[] = [SIDED_LANDMARKS, ['elbow', ...HAND], HAND];

/**
 * Labels count as exchanged when exchanging them back takes away more than half of a mean error of more than a tenth of
 * the trunk: chosen so that arms which cover each other in the picture keep their names.
 */
const LEAST_ERROR_TRUNKS = 0.1;
const MOST_LEFT_SHARE = 0.5;

/** A pose whose landmarks bear their true sides, and which groups of them had been exchanged. */
export interface TrueSides {
  readonly pose: Pose;
  readonly exchangedGroups: readonly (readonly SidedLandmark[])[];
}

/**
 * Puts exchanged labels right, where the true joints show which were. The network exchanges them from one picture to the
 * next; between two pictures they are right or wrong, never half way.
 */
export function trueSides(found: Pose, moment: TrueMoment): TrueSides {
  let pose = found;
  const exchangedGroups: (readonly SidedLandmark[])[] = [];
  for (const group of GROUPS) {
    const keptPx = meanErrorPx(pose, moment, group);
    if (keptPx < LEAST_ERROR_TRUNKS * moment.trunkPx) continue;
    const turned = exchangeLabels(pose, group);
    if (meanErrorPx(turned, moment, group) > MOST_LEFT_SHARE * keptPx) continue;
    pose = turned;
    exchangedGroups.push(group);
  }
  return { pose, exchangedGroups };
}

/** The pose as the network would label it. */
export function withExchanged(pose: Pose, groups: TrueSides['exchangedGroups']): Pose {
  return groups.reduceRight((labelled, group) => exchangeLabels(labelled, group), pose);
}

function meanErrorPx(pose: Pose, { joints }: TrueMoment, group: readonly SidedLandmark[]): number {
  const distances = LANDMARK_NAMES.flatMap((name, index) => {
    const point = pose.image[index];
    if (point === undefined || !group.some((sided) => name === `left_${sided}` || name === `right_${sided}`))
      return [];
    const { xPx, yPx } = joints[jointOf(name)];
    return [Math.hypot(point.x - xPx, point.y - yPx)];
  });
  return distances.reduce((sum, px) => sum + px, 0) / distances.length;
}
