import { CanvasSink } from 'mediabunny';
import { breaksOff, LONGEST_CLIP_SECONDS } from '../../core/pose/clip-limits.ts';
import type {
  FrameSource,
  OpenedSource,
  SourceEnd,
  SourceKind,
  SourcePicture,
} from '../../core/pose/frame-source.ts';
import { LEAST_STEP_SECONDS } from '../../core/pose/least-step.ts';
import { brightnessMeter } from './brightness.ts';
import { type ClipFile, guarded, openClipFile, statedLastSeconds } from './clip-file.ts';
import { fitSize } from './fit-size.ts';

/** How to open a clip. */
export interface ClipOptions {
  /** 'demo' for a clip of ours, else 'clip'. */
  readonly kind: Extract<SourceKind, 'clip' | 'demo'>;
  /** The file's name, for the record. */
  readonly label: string;
}

/**
 * Opens a clip (MP4, MOV, WebM, MKV; a file, or an address on our own origin that answers range requests) and looks at
 * its header only. Never rejects for a fault of the clip: that is a problem.
 */
export async function openClip(from: Blob | string, options: ClipOptions): Promise<OpenedSource> {
  const opened = await openClipFile(from);
  if (typeof opened === 'string') return { ok: false, problem: opened };
  return { ok: true, source: clipSource(opened, { ...options, from }) };
}

interface ClipFacts extends ClipOptions {
  readonly from: Blob | string;
}

function clipSource({ input, track, durationSeconds }: ClipFile, facts: ClipFacts): FrameSource {
  const stopping = new AbortController();
  let isRunning = false;

  const step = async (consume: (picture: SourcePicture) => Promise<void>): Promise<SourceEnd> => {
    // The sink turns the picture upright by the file's rotation. Two canvases: one is handed on, one is drawn.
    const size = fitSize(await track.getDisplayWidth(), await track.getDisplayHeight());
    const sink = new CanvasSink(track, { ...size, fit: 'fill', poolSize: 2 });
    const meter = brightnessMeter();
    let first: number | null = null;
    let last = Number.NEGATIVE_INFINITY;
    const pictures = sink.canvases();
    for (;;) {
      const next = await guarded(pictures.next());
      if (stopping.signal.aborted) return { kind: 'stopped' };
      if (next === 'damaged' || (next.done === true && first === null))
        return { kind: 'failed', problem: next === 'damaged' ? 'clip-damaged' : 'clip-empty' };
      if (next.done === true)
        return breaksOff(await statedLastSeconds(track), last)
          ? { kind: 'failed', problem: 'clip-damaged' }
          : { kind: 'finished' };
      const { canvas, timestamp } = next.value;
      if (timestamp < last + LEAST_STEP_SECONDS) continue;
      first ??= timestamp;
      last = timestamp;
      if (timestamp - first > LONGEST_CLIP_SECONDS) return { kind: 'failed', problem: 'clip-too-long' };
      await consume({
        picture: canvas,
        widthPx: canvas.width,
        heightPx: canvas.height,
        timeSeconds: timestamp,
        brightness: meter.look(canvas, timestamp),
      });
      if (stopping.signal.aborted) return { kind: 'stopped' };
    }
  };

  return {
    kind: facts.kind,
    label: facts.label,
    durationSeconds,
    feed: { kind: 'clip', from: facts.from },
    stopping: stopping.signal,
    async run(consume) {
      isRunning = true;
      try {
        return await step(consume);
      } finally {
        input.dispose();
      }
    },
    stop() {
      stopping.abort();
      // A run lets go of the file itself. Without one the feed was taken, or nothing was.
      if (!isRunning) input.dispose();
    },
  };
}
