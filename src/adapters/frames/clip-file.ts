import {
  ALL_FORMATS,
  BlobSource,
  EncodedPacketSink,
  Input,
  type InputVideoTrack,
  UnsupportedInputFormatError,
  UrlSource,
} from 'mediabunny';
import { LONGEST_CLIP_SECONDS } from '../../core/pose/clip-limits.ts';
import type { SourceProblem } from '../../core/pose/frame-source.ts';

/** An opened clip: dispose of `input` when done. */
export interface ClipFile {
  readonly input: Input;
  readonly track: InputVideoTrack;
  /** As the header tells it; null where it does not. */
  readonly durationSeconds: number | null;
}

/**
 * Opens a clip (MP4, MOV, WebM, MKV; a file, or an address on our own origin that answers range requests) and looks at
 * its header only; the problem where it cannot be measured. Works in pages and workers.
 */
export async function openClipFile(from: Blob | string): Promise<ClipFile | SourceProblem> {
  if (await isEmpty(from)) return 'clip-empty';
  const input = new Input({
    formats: ALL_FORMATS,
    source: typeof from === 'string' ? new UrlSource(from) : new BlobSource(from),
  });
  const refuse = (problem: SourceProblem): SourceProblem => {
    input.dispose();
    return problem;
  };
  try {
    const track = await input.getPrimaryVideoTrack();
    if (track === null)
      return refuse((await input.getTracks()).length === 0 ? 'clip-damaged' : 'clip-without-video');
    const durationSeconds = await durationOf(input, track);
    if (durationSeconds !== null && durationSeconds > LONGEST_CLIP_SECONDS) return refuse('clip-too-long');
    if (!(await track.canDecode())) return refuse('clip-codec-unknown');
    return { input, track, durationSeconds };
  } catch (error) {
    return refuse(error instanceof UnsupportedInputFormatError ? 'source-unknown' : 'clip-damaged');
  }
}

/** The time of the last picture by the file's own table, seconds; null when it cannot be told. */
export async function statedLastSeconds(track: InputVideoTrack): Promise<number | null> {
  try {
    const packet = await new EncodedPacketSink(track).getPacket(Infinity, { metadataOnly: true });
    return packet?.timestamp ?? null;
  } catch {
    return null;
  }
}

/** Decoding failures become a value. */
export async function guarded<T>(next: Promise<T>): Promise<T | 'damaged'> {
  try {
    return await next;
  } catch {
    return 'damaged';
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
