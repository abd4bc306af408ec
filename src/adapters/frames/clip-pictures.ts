import { EncodedPacketSink, type VideoSample, VideoSampleSink } from 'mediabunny';
import type { SourceProblem } from '../../core/pose/frame-source.ts';
import { earliestOf, segmentOf } from '../../core/pose/segment-plan.ts';
import { type ClipFile, guarded, statedLastSeconds } from './clip-file.ts';

/**
 * Packets come in the order of decoding, which runs ahead of the pictures' times by less than this in every usual file,
 * seconds.
 */
const REORDER_SECONDS = 2;

/** Where a clip's pictures lie by its own table, seconds; null where the file does not tell. */
export interface ClipSpan {
  readonly firstSeconds: number | null;
  readonly lastSeconds: number | null;
}

/** Which pictures are asked for. The last segment takes everything that comes after it too. */
export interface SegmentWish {
  readonly segment: number;
  readonly isLast: boolean;
  readonly rateHz: number | null;
}

/** The decoded pictures of a clip, segment by segment. Neighbouring segments are decoded without a jump. */
export class ClipPictures {
  readonly #file: ClipFile;
  readonly #sink: VideoSampleSink;
  #stream: AsyncGenerator<VideoSample, void, unknown> | null = null;
  /** The first picture after the segment that was read last. */
  #held: VideoSample | null = null;
  /** The segment with which the stream goes on. */
  #nextSegment = 0;

  constructor(file: ClipFile) {
    this.#file = file;
    this.#sink = new VideoSampleSink(file.track);
  }

  async span(): Promise<ClipSpan> {
    return {
      firstSeconds: await this.#file.track.getFirstTimestamp().catch(() => null),
      lastSeconds: await statedLastSeconds(this.#file.track),
    };
  }

  /**
   * The pictures of a segment in order of time; whoever takes one closes it. Returns null when all of it came, or
   * 'clip-damaged' after those before the first fault: which these are depends on the file only.
   */
  async *of(wish: SegmentWish): AsyncGenerator<VideoSample, SourceProblem | null, undefined> {
    let lastSeconds = Number.NEGATIVE_INFINITY;
    let isWhole = false;
    try {
      for (;;) {
        const sample = await guarded(this.#next(wish));
        if (sample === 'damaged') break;
        if (sample === null) {
          isWhole = true;
          this.#nextSegment = wish.segment + 1;
          return null;
        }
        lastSeconds = sample.timestamp;
        yield sample;
      }
    } finally {
      if (!isWhole) this.#letGo();
    }
    // The decoder reads ahead: the fault may be anywhere behind, and pictures before it were lost with it.
    return yield* this.#beforeFault(wish, lastSeconds);
  }

  dispose(): void {
    this.#letGo();
    this.#file.input.dispose();
  }

  /** The next picture of the segment; null when there is none. Rejects at a fault. */
  async #next({ segment, isLast, rateHz }: SegmentWish): Promise<VideoSample | null> {
    if (this.#stream === null || this.#nextSegment !== segment) {
      this.#letGo();
      this.#stream = this.#sink.samples(earliestOf(segment));
      this.#nextSegment = segment;
    }
    for (;;) {
      const sample = this.#held ?? (await this.#stream.next()).value ?? null;
      this.#held = null;
      if (sample === null) return null;
      const found = segmentOf(sample.timestamp, rateHz);
      if (found === segment || (found > segment && isLast)) return sample;
      if (found > segment) {
        this.#held = sample;
        return null;
      }
      sample.close();
    }
  }

  #letGo(): void {
    this.#held?.close();
    this.#held = null;
    void this.#stream?.return();
    this.#stream = null;
  }

  /** Decodes a segment again as far as it is sound, and goes on after the given time. */
  async *#beforeFault(
    wish: SegmentWish,
    afterSeconds: number,
  ): AsyncGenerator<VideoSample, SourceProblem | null, undefined> {
    const { times, isWhole } = await this.#listed(wish);
    let sound = (await this.#decodes(times)) ? times.length : 0;
    if (sound === 0) {
      let broken = times.length;
      while (broken - sound > 1) {
        const middle = Math.floor((sound + broken) / 2);
        if (await this.#decodes(times.slice(0, middle))) sound = middle;
        else broken = middle;
      }
    }
    const samples = this.#sink.samplesAtTimestamps(times.slice(0, sound));
    try {
      for (;;) {
        const next = await guarded(samples.next());
        if (next === 'damaged' || next.done === true) break;
        if (next.value === null) continue;
        if (next.value.timestamp > afterSeconds) yield next.value;
        else next.value.close();
      }
    } finally {
      await samples.return();
    }
    return isWhole && sound === times.length ? null : 'clip-damaged';
  }

  /**
   * The times of a segment's pictures as the file lists them, rising; isWhole is false when the list breaks off inside
   * the segment.
   */
  async #listed({ segment, isLast, rateHz }: SegmentWish): Promise<{ times: number[]; isWhole: boolean }> {
    const times = new Set<number>();
    let isWhole = false;
    try {
      const packets = new EncodedPacketSink(this.#file.track);
      const from =
        (await packets.getKeyPacket(earliestOf(segment))) ?? (await packets.getFirstKeyPacket()) ?? undefined;
      let endSeconds = Number.POSITIVE_INFINITY;
      for await (const { timestamp } of packets.packets(from, undefined, { metadataOnly: true })) {
        const found = segmentOf(timestamp, rateHz);
        if (found === segment || (found > segment && isLast)) times.add(timestamp);
        else if (found > segment) {
          isWhole = true;
          endSeconds = Math.min(endSeconds, timestamp);
        }
        if (timestamp > endSeconds + REORDER_SECONDS) break;
      }
      isWhole = true;
    } catch {
      // The list ends here.
    }
    return { times: [...times].toSorted((a, b) => a - b), isWhole };
  }

  /** Whether the pictures of these times can be decoded without reading anything behind them. */
  async #decodes(times: readonly number[]): Promise<boolean> {
    const samples = this.#sink.samplesAtTimestamps(times);
    try {
      for (;;) {
        const next = await samples.next();
        if (next.done === true) return true;
        if (next.value === null) return false;
        next.value.close();
      }
    } catch {
      return false;
    } finally {
      await samples.return();
    }
  }
}
