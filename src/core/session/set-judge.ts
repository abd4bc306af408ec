import type { ExerciseSettings } from '../exercises/exercise.ts';
import type { Thresholds } from '../exercises/thresholds.ts';
import type { LandmarkSource } from '../kinematics/landmark-errors.ts';
import type { FrameSeries } from './quantised-frames.ts';
import type { SetFindings } from './session-record.ts';

/**
 * Judges whole sets. It takes seconds for a set of minutes, so that it is done on another thread where there is one.
 */
export interface SetJudge {
  /** What is found in a set, of its stored pieces in order, which may be gone through more than once. Never lost: wherever it is done, the result is the same. */
  judge(
    pieces: Iterable<FrameSeries>,
    settings: ExerciseSettings,
    thresholds: Thresholds,
    landmarks: LandmarkSource,
  ): Promise<SetFindings>;
}

/** Judges on the thread that asks. All of judging is loaded when it is first needed: a page that has a worker never does. */
export const judgeHere: SetJudge = {
  judge: async (pieces, settings, thresholds, landmarks) => {
    const { judgePieces } = await import('./build-session.ts');
    return judgePieces(pieces, settings, thresholds, landmarks);
  },
};
