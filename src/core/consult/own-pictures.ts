/** A picture of this machine's own camera that was kept for a moment. */
interface KeptPicture {
  readonly image: CanvasImageSource;
  /** By how much it was taken earlier or later than was asked, milliseconds. */
  readonly offMs: number;
}

/** The last seconds of this machine's own camera, to find the picture again that the other side sees. */
export interface OwnPictures {
  /** The picture taken nearest to this moment of the page's clock, milliseconds; null where none is near. It is a copy. */
  near(capturedMs: number): KeptPicture | null;
  close(): void;
}

/** Keeps pictures of a stream from now on; null where the browser does not tell of its pictures. */
export type OpenOwnPictures = (stream: MediaStream) => OwnPictures | null;
