import type { Pose } from './pose-frame.ts';

/** Which network gave the landmarks; kept in every record. */
export interface EstimatorIdentity {
  readonly model: 'blazepose-lite' | 'blazepose-full' | 'blazepose-heavy';
  /** Library, version and where it computes, for example "@mediapipe/pose 0.5, CPU". */
  readonly runtime: string;
  /** SHA-256 of the landmark model's file, lower-case hex. */
  readonly modelSha256: string;
}

/** A picture that an estimator can take. It stays the caller's: the estimator does not close it. */
export type Picture = HTMLVideoElement | HTMLCanvasElement | OffscreenCanvas | ImageBitmap;

/** What an estimator says of one picture. */
export interface Sighting {
  readonly pose: Pose | null;
  readonly people: number | null;
}

/**
 * Finds a person's landmarks. Follows one person from picture to picture, so pictures come in order of time.
 * estimate: landmarks in pixels of the picture given; rejects with an EstimatorError.
 * reset: forgets the person, so that the next picture is searched afresh. Called at every source start and when
 *   tracking went stale.
 * dispose: frees the network; nothing else may be called afterwards.
 */
export interface PoseEstimator {
  readonly identity: EstimatorIdentity;
  estimate(picture: Picture, timeSeconds: number): Promise<Sighting>;
  reset(): Promise<void>;
  dispose(): void;
}
