/** Members of the platform that adapters use and TypeScript's library lacks. */

/** W3C MediaStreamTrack Insertable Media Processing. */
interface MediaStreamTrackProcessor {
  readonly readable: ReadableStream<VideoFrame>;
}

interface Window {
  readonly MediaStreamTrackProcessor?: new (init: {
    track: MediaStreamTrack;
    maxBufferSize: number;
  }) => MediaStreamTrackProcessor;
}

/** Newer members of W3C WebCodecs. */
interface VideoFrame {
  /** How the picture must be turned to stand upright, degrees. */
  readonly rotation?: number;
  readonly flip?: boolean;
  /** captureTime: on the clock of the global it is asked in, milliseconds. */
  metadata?(): { readonly captureTime?: number };
}
