import { CLIPS } from '../../../demo-clips/generator/clips.ts';
import { createScenario } from '../../../demo-clips/generator/scenario.ts';
import type { YardstickCase } from '../../../demo-clips/generator/yardstick/cases.ts';
import { LANDMARK_NAMES, type LandmarkName } from '../../../src/core/pose/landmark.ts';
import type { Pose } from '../../../src/core/pose/pose-frame.ts';
import type { FoundPoses } from '../../yardstick/trace.ts';
import { jointOf, truthOf, type TrueMoment } from '../../yardstick/truth.ts';

/** A demo clip as a case, with the given moments drawn. */
export function caseOf(clip: string, drawnTimesSeconds: readonly number[]): YardstickCase {
  const outline = CLIPS.find(({ name }) => name === clip);
  if (outline === undefined) throw new Error(`There is no clip named ${clip}.`);
  return {
    id: clip,
    set: 'developing',
    exercise: outline.exercise,
    yawBandDeg: 0,
    outline,
    drawnTimesSeconds,
  };
}

/** So many moments, evenly over a demo clip. */
export function momentsOf(clip: string, count: number): number[] {
  const { durationS } = createScenario(caseOf(clip, []).outline);
  return Array.from({ length: count }, (_, i) => ((i + 0.5) * durationS) / count);
}

/** An imagined network: every landmark is so many pixels off its true joint. */
export type Offset = (name: LandmarkName, moment: TrueMoment) => { readonly x: number; readonly y: number };

/** What an imagined network finds at a moment. */
function imaginedPose(moment: TrueMoment, offset: Offset): Pose {
  return {
    image: LANDMARK_NAMES.map((name) => {
      const { xPx, yPx } = moment.joints[jointOf(name)];
      const { x, y } = offset(name, moment);
      return { x: xPx + x, y: yPx + y, visibility: 0.9 };
    }),
    world: LANDMARK_NAMES.map((_, index) => ({
      x: index / 100,
      y: 0.1,
      z: moment.truth.elbowFlexionDeg / 1000,
    })),
  };
}

/** The same for all networks at all moments of a case; null where `isFound` says nobody. */
export function imaginedPoses(
  drawnCase: YardstickCase,
  offset: Offset,
  isFound: (moment: TrueMoment) => boolean = () => true,
): FoundPoses {
  const truthAt = truthOf(createScenario(drawnCase.outline));
  const poses = drawnCase.drawnTimesSeconds.map((timeSeconds) => {
    const moment = truthAt(timeSeconds);
    return isFound(moment) ? imaginedPose(moment, offset) : null;
  });
  return { full: poses, fullMirrored: poses, heavy: poses };
}
