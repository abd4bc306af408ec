import { ALL_FORMATS, Input, UrlSource, VideoSampleSink } from 'mediabunny';
import { isToBeMeasured } from '../../src/core/pose/picture-rate.ts';

/** A picture of a clip as the decoder gives it, and its own time. The consumer closes the frame. */
export interface ClipFrame {
  readonly frame: VideoFrame;
  readonly timeSeconds: number;
}

/** The pictures of a clip that are measured at a rate, one after the other. */
export async function* clipFrames(url: string, rateHz: number | null): AsyncGenerator<ClipFrame> {
  const input = new Input({ formats: ALL_FORMATS, source: new UrlSource(url) });
  try {
    const track = await input.getPrimaryVideoTrack();
    if (track === null) throw new Error(`${url} holds no video.`);
    let last: number | null = null;
    for await (const sample of new VideoSampleSink(track).samples()) {
      const timeSeconds = sample.timestamp;
      const isWanted = isToBeMeasured(timeSeconds, last, rateHz);
      const frame = isWanted ? sample.toVideoFrame() : null;
      sample.close();
      if (frame === null) continue;
      last = timeSeconds;
      yield { frame, timeSeconds };
    }
  } finally {
    input.dispose();
  }
}
