import type { VideoRecording } from '../../core/session/video-recording.ts';

/** Containers in the order of preference: each browser writes one of them. */
const MIME_TYPES = ['video/webm;codecs=vp8', 'video/webm', 'video/mp4'] as const;
/** About 7.5 megabytes a minute. Common practice for a still camera, no source. */
const BITS_PER_SECOND = 1_000_000;
/** A crash costs at most so much, milliseconds. */
const CHUNK_MS = 1000;

/** Records the pictures of a stream, without sound; bytes come about each second. Null where the browser cannot. */
export function recordStream(stream: MediaStream, onBytes: (bytes: Blob) => void): VideoRecording | null {
  if (typeof MediaRecorder === 'undefined') return null;
  const mimeType = MIME_TYPES.find((type) => MediaRecorder.isTypeSupported(type));
  if (mimeType === undefined) return null;
  try {
    const pictures = new MediaStream(stream.getVideoTracks());
    const recorder = new MediaRecorder(pictures, { mimeType, videoBitsPerSecond: BITS_PER_SECOND });
    recorder.addEventListener('dataavailable', ({ data }) => {
      if (data.size > 0) onBytes(data);
    });
    const stopped = new Promise<void>((resolve) => {
      recorder.addEventListener('stop', () => resolve(), { once: true });
      recorder.addEventListener('error', () => resolve(), { once: true });
    });
    recorder.start(CHUNK_MS);
    return {
      mimeType,
      async stop() {
        if (recorder.state !== 'inactive') recorder.stop();
        await stopped;
      },
    };
  } catch {
    // A stream that has just ended, or a camera whose pictures may not be recorded.
    return null;
  }
}
