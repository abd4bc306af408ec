import type { FrameSource, SourceEnd, SourceKind, SourceProblem } from '../../core/pose/frame-source.ts';
import { brightnessMeter } from './brightness.ts';
import { fitSize } from './fit-size.ts';
import { LEAST_STEP_SECONDS } from '../../core/pose/least-step.ts';
import { SourceClock } from '../../core/pose/source-clock.ts';
import { liveFrames } from './live-frames.ts';

/** What a live source is, and what it means when its track ends by itself. */
export interface LiveFacts {
  readonly kind: Extract<SourceKind, 'camera' | 'shared-window'>;
  readonly label: string;
  readonly whenEnded: SourceProblem;
}

/** A source over the first video track of a stream. Its end, however it comes, gives the device back. */
export function liveSource(stream: MediaStream, facts: LiveFacts): FrameSource {
  const [track] = stream.getVideoTracks();
  const stopping = new AbortController();
  let close: () => void = () => undefined;

  const run: FrameSource['run'] = async (consume) => {
    if (track === undefined || track.readyState === 'ended') return endOf();
    const frames = await liveFrames(stream, track);
    close = () => frames.close();
    const canvas = new OffscreenCanvas(1, 1);
    const context = canvas.getContext('2d', { alpha: false });
    const meter = brightnessMeter();
    const clock = new SourceClock();
    let last = Number.NEGATIVE_INFINITY;
    while (!stopping.signal.aborted) {
      const frame = await frames.next();
      if (frame === null || context === null) break;
      // Time must rise: a picture given twice, or a clock set back, is dropped.
      if (frame.timeSeconds < last + LEAST_STEP_SECONDS || frame.width === 0) continue;
      last = frame.timeSeconds;
      const timeSeconds = clock.since(last);
      const { width, height } = fitSize(frame.width, frame.height);
      // A shared window may change its size. Setting the same size would clear and cost for nothing.
      if (canvas.width !== width || canvas.height !== height) Object.assign(canvas, { width, height });
      // A copy, because the picture must stay the same for everything that looks at it.
      context.drawImage(frame.image, 0, 0, width, height);
      await consume({
        picture: canvas,
        widthPx: width,
        heightPx: height,
        timeSeconds,
        brightness: meter.look(canvas, timeSeconds),
      });
    }
    return endOf();
  };

  const endOf = (): SourceEnd =>
    stopping.signal.aborted ? { kind: 'stopped' } : { kind: 'failed', problem: facts.whenEnded };

  const release = (): void => {
    close();
    for (const used of stream.getTracks()) used.stop();
  };

  return {
    kind: facts.kind,
    label: facts.label,
    durationSeconds: null,
    feed: { kind: 'live', stream, whenEnded: facts.whenEnded },
    stopping: stopping.signal,
    async run(consume) {
      try {
        return await run(consume);
      } finally {
        release();
      }
    },
    stop() {
      stopping.abort();
      release();
    },
  };
}
