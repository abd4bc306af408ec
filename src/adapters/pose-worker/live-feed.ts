import type { LiveOptions, ToPoseWorker } from './messages.ts';
import type { PoseWorkerLink } from './pose-worker-link.ts';

/** Brings the pictures of a live track to a worker. */
export interface LiveFeed {
  /** The worker can take another picture: its answer to the one before has come. */
  ready(): void;
  close(): void;
}

/**
 * Feeds a run of the worker. Where the browser can, the worker takes the pictures from the track itself and the page never
 * sees them; else the page hands them over, one at a time. Either way pictures in between are dropped, never queued.
 */
export function feedLive(
  link: PoseWorkerLink,
  stream: MediaStream,
  track: MediaStreamTrack,
  run: number,
  options: LiveOptions,
): LiveFeed {
  const { MediaStreamTrackProcessor: Processor } = window;
  if (Processor !== undefined) {
    const { readable } = new Processor({ track, maxBufferSize: 1 });
    link.send({ kind: 'live', run, frames: readable, options }, [readable]);
    return { ready: () => undefined, close: () => link.send({ kind: 'stop', run }) };
  }
  link.send({ kind: 'hand-over', run, options });
  return handOver(link, stream, run);
}

function handOver(link: PoseWorkerLink, stream: MediaStream, run: number): LiveFeed {
  const video = document.createElement('video');
  video.muted = true;
  video.playsInline = true;
  video.srcObject = stream;
  let isClosed = false;
  // One clock for the whole track: capture time when the first picture has it, else the element's media time.
  let usesCapture: boolean | null = null;

  const next = (): void => {
    video.requestVideoFrameCallback((_now, { captureTime, mediaTime, presentationTime }) => {
      if (isClosed) return;
      usesCapture ??= captureTime !== undefined;
      const timeSeconds = usesCapture ? (captureTime ?? 0) / 1000 : mediaTime;
      // Where the capture is not told, the time when the browser had the picture comes nearest to it.
      const capturedAtMs = performance.timeOrigin + (captureTime ?? presentationTime);
      void pictureOf(video).then((picture) => {
        const message: ToPoseWorker = { kind: 'picture', run, picture, timeSeconds, capturedAtMs };
        if (isClosed) picture.close();
        else link.send(message, [picture]);
      }, next);
    });
  };
  // A stream that ends before it plays is told by its track.
  void video.play().catch(() => undefined);
  next();
  return {
    ready: next,
    close() {
      isClosed = true;
      video.srcObject = null;
      link.send({ kind: 'stop', run });
    },
  };
}

/** The picture that a video shows, without passing through a canvas where the browser can. */
async function pictureOf(video: HTMLVideoElement): Promise<VideoFrame | ImageBitmap> {
  return 'VideoFrame' in window ? new VideoFrame(video) : createImageBitmap(video);
}
