import type { FrameSource, SourceEnd } from './frame-source.ts';
import type { Side } from './landmark.ts';
import type { EstimatorIdentity, Picture } from './pose-estimator.ts';
import type { PoseFrame } from './pose-frame.ts';

/** The three sizes of the pose network: the larger, the slower. */
export type PoseModel = 'lite' | 'full' | 'heavy';

/** What finds landmarks: one network, or several looks at each picture combined (combine-poses.ts), for clips only. */
export type EstimatorName = PoseModel | 'combined';

/** Where the network computes. 'library': the library's own runtime, on the page, where nothing else works. */
export type PoseBackend = 'gpu' | 'cpu' | 'library';

/** How long things took for one picture, milliseconds. */
export interface FrameTiming {
  /** Everything for this picture, from having it to having its landmarks. */
  readonly workMs: number;
  /** The network's part of it; null where the library does not tell. */
  readonly networkMs: number | null;
  /** From the capture of the picture to its numbers on the page; null for clips, and where the browser does not tell. */
  readonly latencyMs: number | null;
  /** Pictures of a live source that came and were passed over since the one before; null where nobody counts them. */
  readonly dropped: number | null;
}

/** What was seen in one picture. */
export interface SeenPicture {
  readonly frame: PoseFrame;
  /** To be painted, and valid during the call only; null where the picture is shown otherwise, or not this time. */
  readonly picture: Picture | null;
  readonly timing: FrameTiming;
  /** True where a tile was framed and the shared picture has another size since: nothing was measured in it. */
  readonly isTileOff?: boolean;
}

/** How far the files of a network have come. */
export interface LoadProgress {
  readonly loadedBytes: number;
  readonly totalBytes: number;
}

/** What to run a source with. */
export interface RunOptions {
  /** The person's own treated side. */
  readonly side: Side;
  /** Pictures of a clip that are measured a second of its time (picture-rate.ts); null for every one. */
  readonly clipRateHz: number | null;
  /**
   * Of a live source at most one picture in so many seconds is measured, by the rule of picture-rate.ts; 0 measures as
   * many as can be. Holds until pace() says otherwise.
   */
  readonly liveStepSeconds: number;
  /**
   * Told of a clip, where it is known: the share that is measured, 0 to 1 by media time and never falling. Segments of a
   * clip may be measured side by side, and then the frames handed over stand still and jump: for progress and remaining
   * time take this, not their times.
   */
  readonly onProgress?: (share: number) => void;
}

/**
 * Finds landmarks in the pictures of whole sources, on whatever thread. One live source at a time.
 * run: hands on what is seen, in order of time, until the source ends; rejects with an EstimatorError.
 * pace: another liveStepSeconds for the run that goes on, from the next picture on.
 * change: loads another estimator and computes with it from the next picture on; a run goes on meanwhile with the
 *   one before; a clip is measured with one size throughout, so a change waits for its end. Where only one size is to be had it stays: identity says what it is.
 * dispose: frees everything; nothing else may be called afterwards.
 */
export interface PoseService {
  readonly identity: EstimatorIdentity;
  readonly backend: PoseBackend;
  run(source: FrameSource, options: RunOptions, take: (seen: SeenPicture) => void): Promise<SourceEnd>;
  pace(liveStepSeconds: number): void;
  change(model: EstimatorName, onProgress: (progress: LoadProgress) => void): Promise<void>;
  dispose(): void;
}
