import type { VideoStore } from './video-store.ts';

/** The recording of a live source's video while it runs. */
export interface VideoRecording {
  readonly mimeType: string;
  /** Ends it; settles when the last bytes have been handed over. */
  stop(): Promise<void>;
}

/** What keeping videos needs from outside. */
export interface VideoParts {
  readonly store: VideoStore;
  /**
   * Records a stream and hands over its bytes as they come, about each second; ends by itself where the stream ends. Null where
   * the browser cannot.
   */
  readonly record: (stream: MediaStream, onBytes: (bytes: Blob) => void) => VideoRecording | null;
  /** Makes a kept video, whole or broken off, one in which every moment can be gone to. Rejects where nothing can be read. */
  readonly makeSeekable: (video: Blob) => Promise<Blob>;
}
