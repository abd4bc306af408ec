import type { EstimatorProblem } from '../../core/pose/estimator-problem.ts';
import type { SourceProblem } from '../../core/pose/frame-source.ts';
import type { Side } from '../../core/pose/landmark.ts';
import type { PictureTile } from '../../core/pose/picture-tile.ts';
import type { EstimatorIdentity } from '../../core/pose/pose-estimator.ts';
import type { PoseFrame } from '../../core/pose/pose-frame.ts';
import type { EstimatorName, PoseBackend } from '../../core/pose/pose-service.ts';

/** Loads runtime and networks, or others. Answered by progress, then 'loaded' or 'failed'. */
export interface LoadRequest {
  readonly kind: 'load';
  readonly modelBase: string;
  readonly model: EstimatorName;
  readonly backend: 'any' | 'cpu' | 'gpu-even-software';
}

/** How the pictures of a live source are measured. */
export interface LiveOptions {
  readonly side: Side;
  /** Least time between two measured pictures, seconds. */
  readonly stepSeconds: number;
  /** Pictures a second that the source promises, to count those that were passed over; null when unknown. */
  readonly rateHz: number | null;
  /** The part of each picture that is measured; null for the whole. */
  readonly tile: PictureTile | null;
  /** A picture that is shown again is no new one and is passed over, as of a shared window. */
  readonly skipsRepeats: boolean;
}

/** A clip of which segments will be asked for. Answered by 'clip-opened'. */
export interface ClipRequest {
  readonly kind: 'clip';
  readonly clip: number;
  /** The file, or its whole address on our own origin. */
  readonly from: Blob | string;
  readonly side: Side;
  /** Pictures that are measured a second of media time; null for all. */
  readonly rateHz: number | null;
}

/** A segment of an opened clip that is to be measured: one at a time. Answered by frames, then 'segment-done'. */
export interface SegmentOrder {
  readonly kind: 'segment';
  readonly clip: number;
  readonly segment: number;
  /** It takes everything that comes after it too. */
  readonly isLast: boolean;
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
  | { readonly kind: 'tile'; readonly tile: PictureTile | null }
  | { readonly kind: 'stop'; readonly run: number }
  | ClipRequest
  | SegmentOrder
  /** From now on this segment of the clip is shown while it is measured, and no other. */
  | { readonly kind: 'clip-front'; readonly clip: number; readonly segment: number }
  /** Nothing more is wanted of a clip, whatever is under way. */
  | { readonly kind: 'clip-end'; readonly clip: number }
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
  /** The picture has another size than when its tile was framed: nothing was measured in it. */
  readonly isTileOff: boolean;
}

/** How a clip could be opened: its pictures' times by its own table, seconds, null where it does not tell. */
export interface ClipOpenedMessage {
  readonly kind: 'clip-opened';
  readonly clip: number;
  readonly firstSeconds: number | null;
  readonly lastSeconds: number | null;
  /** Why it could not be; then nothing else comes of it. */
  readonly problem: SourceProblem | null;
}

/** What was seen in a picture of a clip. */
export interface ClipFrameMessage {
  readonly kind: 'clip-frame';
  readonly clip: number;
  readonly segment: number;
  readonly frame: PoseFrame;
  readonly workMs: number;
  readonly networkMs: number;
  /** To be looked at; the page closes it. */
  readonly picture: ImageBitmap | null;
}

/** A segment is done as far as it can be. */
export interface SegmentDoneMessage {
  readonly kind: 'segment-done';
  readonly clip: number;
  readonly segment: number;
  /** Of its last picture, measured or not; null when it has none. */
  readonly lastPictureSeconds: number | null;
  readonly problem: SourceProblem | null;
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
  | ClipOpenedMessage
  | ClipFrameMessage
  | SegmentDoneMessage
  | { readonly kind: 'failed'; readonly problem: EstimatorProblem | 'gpu-lost'; readonly detail: string }
  | { readonly kind: 'pong' };
