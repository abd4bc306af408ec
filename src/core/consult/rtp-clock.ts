/** Ticks of a picture's RTP time in a millisecond: 90 kHz for every codec of pictures (RFC 3551, section 5; RFC 7741, section 4.1). */
const TICKS_A_MS = 90;
const WRAP = 2 ** 32;

/** Reads the 32-bit RTP times of one stream as milliseconds that go on over the wrap, from the first one's 0. */
export class RtpClock {
  #last: number | null = null;
  #ticks = 0;

  /** Milliseconds since the first picture; less for one that came out of order. rtpTimestamp: 0 to 2^32 - 1. */
  ms(rtpTimestamp: number): number {
    const ahead = (((rtpTimestamp - (this.#last ?? rtpTimestamp)) % WRAP) + WRAP) % WRAP;
    this.#ticks += ahead >= WRAP / 2 ? ahead - WRAP : ahead;
    this.#last = rtpTimestamp;
    return this.#ticks / TICKS_A_MS;
  }
}
