import {
  ALL_FORMATS,
  BlobSource,
  CanvasSink,
  EncodedPacketSink,
  Input,
  type InputVideoTrack,
  UnsupportedInputFormatError,
  UrlSource,
} from 'mediabunny';
import type {
  FrameSource,
  OpenedSource,
  SourceEnd,
  SourceKind,
  SourcePicture,
  SourceProblem,
} from '../../core/pose/frame-source.ts';
import { brightnessMeter } from './brightness.ts';
import { fitSize } from './fit-size.ts';
import { LEAST_STEP_SECONDS } from './least-step.ts';

/** Longer clips are refused: nobody exercises for an hour in one go, and their measuring would take hours. */
const LONGEST_CLIP_SECONDS = 3600;

/** Missing this much at the end is a copy that broke off; some recorders cut their last pictures short. */
const BROKEN_OFF_SECONDS = 0.25;

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
export async function openClip(from: Blob | string, { kind, label }: ClipOptions): Promise<OpenedSource> {
  if (await isEmpty(from)) return { ok: false, problem: 'clip-empty' };
  const input = new Input({
    formats: ALL_FORMATS,
    source: typeof from === 'string' ? new UrlSource(from) : new BlobSource(from),
  });
  const refuse = (problem: SourceProblem): OpenedSource => {
    input.dispose();
    return { ok: false, problem };
  };
  try {
    const track = await input.getPrimaryVideoTrack();
    if (track === null)
      return refuse((await input.getTracks()).length === 0 ? 'clip-damaged' : 'clip-without-video');
    const durationSeconds = await durationOf(input, track);
    if (durationSeconds !== null && durationSeconds > LONGEST_CLIP_SECONDS) return refuse('clip-too-long');
    if (!(await track.canDecode())) return refuse('clip-codec-unknown');
    return { ok: true, source: clipSource(input, track, { kind, label, durationSeconds, from }) };
  } catch (error) {
    return refuse(error instanceof UnsupportedInputFormatError ? 'source-unknown' : 'clip-damaged');
  }
}

async function isEmpty(from: Blob | string): Promise<boolean> {
  if (from instanceof Blob) return from.size === 0;
  const answer = await fetch(from, { method: 'HEAD' }).catch(() => null);
  return answer?.ok === true && answer.headers.get('content-length') === '0';
}

async function durationOf(input: Input, track: InputVideoTrack): Promise<number | null> {
  const seconds = await input.getDurationFromMetadata([track]);
  return seconds !== null && Number.isFinite(seconds) && seconds > 0 ? seconds : null;
}

interface ClipFacts extends ClipOptions {
  readonly from: Blob | string;
  readonly durationSeconds: number | null;
}

function clipSource(input: Input, track: InputVideoTrack, facts: ClipFacts): FrameSource {
  const stopping = new AbortController();

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
        return (await breaksOff(track, last))
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
    durationSeconds: facts.durationSeconds,
    feed: { kind: 'clip', from: facts.from },
    stopping: stopping.signal,
    async run(consume) {
      try {
        return await step(consume);
      } finally {
        input.dispose();
      }
    },
    stop() {
      stopping.abort();
    },
  };
}

/**
 * True when the file's own table or length tells of pictures well after the last one that came: a copy that broke off
 * ends like a whole one.
 */
async function breaksOff(track: InputVideoTrack, lastSeconds: number): Promise<boolean> {
  try {
    const stated = await new EncodedPacketSink(track).getPacket(Infinity, { metadataOnly: true });
    return stated !== null && stated.timestamp > lastSeconds + BROKEN_OFF_SECONDS;
  } catch {
    return true;
  }
}

/** Decoding failures become a value; what the consumer throws stays its own. */
async function guarded<T>(next: Promise<T>): Promise<T | 'damaged'> {
  try {
    return await next;
  } catch {
    return 'damaged';
  }
}
