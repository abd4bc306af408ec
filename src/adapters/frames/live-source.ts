import type { FrameSource, SourceEnd, SourceKind, SourceProblem } from '../../core/pose/frame-source.ts';
import type { PictureFraming } from '../../core/pose/picture-framing.ts';

/** What a live source is, and what it means when its track ends by itself. */
export interface LiveFacts {
  readonly kind: Extract<SourceKind, 'camera' | 'shared-window'>;
  readonly label: string;
  readonly whenEnded: SourceProblem;
  /** Of a shared window; null of a camera. */
  readonly framing: PictureFraming | null;
}

/** A source over the first video track of a stream. Its end, however it comes, gives the device back. */
export function liveSource(stream: MediaStream, facts: LiveFacts): FrameSource {
  const [track] = stream.getVideoTracks();
  const stopping = new AbortController();
  const { kind, label, whenEnded, framing } = facts;

  const endOf = (): SourceEnd =>
    stopping.signal.aborted ? { kind: 'stopped' } : { kind: 'failed', problem: whenEnded };

  const release = (): void => {
    for (const used of stream.getTracks()) used.stop();
  };

  return {
    kind,
    label,
    durationSeconds: null,
    feed: { kind: 'live', stream, whenEnded, framing },
    stopping: stopping.signal,
    async run(consume) {
      try {
        if (track === undefined || track.readyState === 'ended') return endOf();
        // Workers take the pictures from the stream: only where none can be had are they looked at here.
        const { playLive } = await import('./live-pictures.ts');
        await playLive({ stream, track, framing, stopping: stopping.signal }, consume);
        return endOf();
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
