import type { FrameSource, SourceEnd } from './frame-source.ts';
import type { Side } from './landmark.ts';
import type { EstimatorIdentity, Picture } from './pose-estimator.ts';
import type { PoseFrame } from './pose-frame.ts';

/** The three sizes of the pose network: the larger, the slower. */
export type PoseModel = 'lite' | 'full' | 'heavy';

/** Where the network computes. 'library': the library's own runtime, on the page, where nothing else works. */
export type PoseBackend = 'gpu' | 'cpu' | 'library';

/** How long things took for one picture, milliseconds. */
export interface FrameTiming {
  /** Everything for this picture, from having it to having its landmarks. */
  readonly workMs: number;
  /** The network's part of it. */
  readonly networkMs: number;
  /** From the capture of the picture to its numbers on the page; null where there is no capture (clips). */
  readonly latencyMs: number | null;
  /** Pictures of a live source that came and were passed over since the one before. */
  readonly dropped: number;
}

/** What was seen in one picture. */
export interface SeenPicture {
  readonly frame: PoseFrame;
  /** To be painted, and valid during the call only; null where the picture is shown otherwise, or not this time. */
  readonly picture: Picture | null;
  readonly timing: FrameTiming;
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
  /** Pictures of a clip that are measured a second of its time; null for every one. Live sources give what they can. */
  readonly clipRateHz: number | null;
  /** Longest pause between two pictures of a live source that is kept, seconds; 0 measures as many as can be. */
  readonly liveStepSeconds: number;
}

/**
 * Finds landmarks in the pictures of whole sources, on whatever thread. One source at a time.
 * run: hands on what is seen, in order of time, until the source ends; rejects with an EstimatorError.
 * change: loads another size of network and computes with it from the next picture on.
 * dispose: frees everything; nothing else may be called afterwards.
 */
export interface PoseService {
  readonly identity: EstimatorIdentity;
  readonly backend: PoseBackend;
  run(source: FrameSource, options: RunOptions, take: (seen: SeenPicture) => void): Promise<SourceEnd>;
  change(model: PoseModel, onProgress: (progress: LoadProgress) => void): Promise<void>;
  dispose(): void;
}
