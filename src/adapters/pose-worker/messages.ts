import type { EstimatorProblem } from '../../core/pose/estimator-problem.ts';
import type { Side } from '../../core/pose/landmark.ts';
import type { EstimatorIdentity } from '../../core/pose/pose-estimator.ts';
import type { PoseFrame } from '../../core/pose/pose-frame.ts';
import type { PoseBackend, PoseModel } from '../../core/pose/pose-service.ts';

/** Loads runtime and networks, or another size of network. Answered by progress, then 'loaded' or 'failed'. */
export interface LoadRequest {
  readonly kind: 'load';
  readonly modelBase: string;
  readonly model: PoseModel;
  readonly backend: 'any' | 'cpu' | 'gpu-even-software';
}

/** How the pictures of a live source are measured. */
export interface LiveOptions {
  readonly side: Side;
  /** Least time between two measured pictures, seconds. */
  readonly stepSeconds: number;
  /** Pictures a second that the source promises, to count those that were passed over; null when unknown. */
  readonly rateHz: number | null;
}

/** What the page asks of a pose worker. Runs are numbered, so that a late answer to an earlier one is noticed. */
export type ToPoseWorker =
  | LoadRequest
  /** Measures a stream of pictures until it ends. */
  | {
      readonly kind: 'live';
      readonly run: number;
      readonly frames: ReadableStream<VideoFrame>;
      readonly options: LiveOptions;
    }
  /** Begins a run whose pictures are handed over one by one. */
  | { readonly kind: 'hand-over'; readonly run: number; readonly options: LiveOptions }
  /** One picture of such a run; the next may be sent when its answer has come. */
  | {
      readonly kind: 'picture';
      readonly run: number;
      readonly picture: VideoFrame | ImageBitmap;
      readonly timeSeconds: number;
      /** On the clock since 1970, milliseconds; null when the browser does not tell it. */
      readonly capturedAtMs: number | null;
    }
  | { readonly kind: 'pace'; readonly stepSeconds: number }
  | { readonly kind: 'stop'; readonly run: number }
  /** Answered by 'pong' between two pictures: who does not answer is dead. */
  | { readonly kind: 'ping' };

/** What was seen in a picture of a live run. */
export interface LiveFrameMessage {
  readonly kind: 'frame';
  readonly run: number;
  readonly frame: PoseFrame;
  readonly workMs: number;
  readonly networkMs: number;
  readonly capturedAtMs: number | null;
  readonly dropped: number | null;
}

/** What a pose worker says. */
export type FromPoseWorker =
  | { readonly kind: 'progress'; readonly loadedBytes: number; readonly totalBytes: number }
  | {
      readonly kind: 'loaded';
      readonly identity: EstimatorIdentity;
      readonly backend: Exclude<PoseBackend, 'library'>;
    }
  | LiveFrameMessage
  /** A handed-over picture was too soon after the one before and was passed over. */
  | { readonly kind: 'passed-over'; readonly run: number }
  | { readonly kind: 'end'; readonly run: number }
  | { readonly kind: 'failed'; readonly problem: EstimatorProblem | 'gpu-lost'; readonly detail: string }
  | { readonly kind: 'pong' };
