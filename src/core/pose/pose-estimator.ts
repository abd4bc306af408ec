import type { PixelPicture } from './network/pixel-picture.ts';
import type { PictureTile } from './picture-tile.ts';
import type { Pose } from './pose-frame.ts';

/** What gave the landmarks; kept in every record. */
export interface EstimatorIdentity {
  /** The network; combined: full, full in a mirror and heavy looked at every picture (combine-poses.ts). */
  readonly model: 'blazepose-lite' | 'blazepose-full' | 'blazepose-heavy' | 'blazepose-combined';
  /** Library, version and where it computes, for example "@mediapipe/pose 0.5, CPU". */
  readonly runtime: string;
  /** SHA-256 of the file of each landmark network that took part, lower-case hex. */
  readonly modelSha256s: string[];
}

/** A picture that can be drawn. It stays the caller's: nobody closes what they are handed. */
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
export interface PoseEstimator<P = Picture> {
  readonly identity: EstimatorIdentity;
  estimate(picture: P, timeSeconds: number): Promise<Sighting>;
  reset(): Promise<void>;
  dispose(): void;
}

/** An estimator of pixels that also tells how long its networks took for the last picture. */
export interface TimedEstimator extends PoseEstimator<PixelPicture> {
  readonly networkMs: number;
}

/** A picture that gives its pixels. It stays the caller's. */
export type PixelSource = VideoFrame | ImageBitmap;

/** Reads pictures into one buffer that is used again and again: a picture is valid until the next is read. */
export interface PixelReader {
  /** Of a tile only what lies in it, in the size of the tile; it must be one of this picture. */
  read(from: PixelSource, tile?: PictureTile | null): Promise<PixelPicture>;
}
