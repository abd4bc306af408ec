/** A drawable picture of a live track; valid until the next one is asked for. */
export interface LiveFrame {
  readonly image: CanvasImageSource;
  readonly width: number;
  readonly height: number;
  /** Capture time where the browser tells it, in the track's own clock, seconds. */
  readonly timeSeconds: number;
}

/** Gives a live track's newest picture each time it is asked. */
export interface LiveFrames {
  /** The newest picture not yet given, or null when the track ended. Pictures in between are dropped. */
  next(): Promise<LiveFrame | null>;
  close(): void;
}

/**
 * Frames of a track. Straight from the track where the browser can: that goes on when the page is covered by the
 * window that it watches. Else through a video element.
 */
export async function liveFrames(stream: MediaStream, track: MediaStreamTrack): Promise<LiveFrames> {
  let end: () => void = () => undefined;
  const ended = new Promise<null>((resolve) => {
    end = () => resolve(null);
    track.addEventListener('ended', end, { once: true });
  });
  const Processor = window.MediaStreamTrackProcessor;
  const frames =
    Processor === undefined ? await videoFrames(stream, ended) : processedFrames(Processor, track);
  return {
    next: () => Promise.race([frames.next(), ended]),
    close() {
      end();
      frames.close();
    },
  };
}

function processedFrames(
  Processor: NonNullable<typeof window.MediaStreamTrackProcessor>,
  track: MediaStreamTrack,
): LiveFrames {
  // One place in the buffer: a picture that comes while the consumer is busy takes the place of an older one.
  const reader = new Processor({ track, maxBufferSize: 1 }).readable.getReader();
  let current: VideoFrame | null = null;
  let isClosed = false;
  const letGo = (): void => {
    current?.close();
    current = null;
  };
  return {
    async next() {
      letGo();
      const { done, value } = await reader.read();
      if (done) return null;
      current = value;
      if (isClosed) letGo();
      return {
        image: value,
        width: value.displayWidth,
        height: value.displayHeight,
        timeSeconds: value.timestamp / 1e6,
      };
    },
    close() {
      isClosed = true;
      letGo();
      void reader.cancel().catch(() => undefined);
    },
  };
}

async function videoFrames(stream: MediaStream, ended: Promise<null>): Promise<LiveFrames> {
  const video = document.createElement('video');
  video.muted = true;
  video.playsInline = true;
  video.srcObject = stream;
  await Promise.race([video.play(), ended]);
  // One clock for the whole track: capture time when the first picture has it, else the element's media time.
  let usesCapture: boolean | null = null;
  return {
    next: () =>
      new Promise<LiveFrame>((resolve) => {
        video.requestVideoFrameCallback((_now, { captureTime, mediaTime, width, height }) => {
          usesCapture ??= captureTime !== undefined;
          const timeSeconds = usesCapture ? (captureTime ?? 0) / 1000 : mediaTime;
          resolve({ image: video, width, height, timeSeconds });
        });
      }),
    close() {
      video.srcObject = null;
    },
  };
}
