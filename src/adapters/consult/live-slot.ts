/** Figures that wait behind so many bytes would come late. Two of them, about. */
const WAITING_BYTES = 1_500;

/** The live channel, and the one newest text that waits for room in it: an older one that waits is dropped, never queued. */
export class LiveSlot {
  readonly #channel: RTCDataChannel;
  #waiting: string | null = null;

  constructor(channel: RTCDataChannel) {
    this.#channel = channel;
    channel.bufferedAmountLowThreshold = WAITING_BYTES / 2;
    channel.addEventListener('bufferedamountlow', () => {
      const text = this.#waiting;
      this.#waiting = null;
      if (text !== null) this.send(text);
    });
  }

  /** Bytes that wait to be sent. */
  get waitingBytes(): number {
    return this.#channel.bufferedAmount + (this.#waiting?.length ?? 0);
  }

  /** Sends a text now, or next when the line is backed up. False when the line is down. */
  send(text: string): boolean {
    if (this.#channel.readyState !== 'open') return false;
    if (this.#channel.bufferedAmount > WAITING_BYTES) {
      this.#waiting = text;
      return true;
    }
    try {
      this.#channel.send(text);
      return true;
    } catch {
      // The channel has just closed: what was measured then is in the record.
      return false;
    }
  }
}
