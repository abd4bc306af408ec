import type { ConnectionFacts } from '../../src/core/consult/connection-facts.ts';
import type { LinkEars, PeerLink } from '../../src/core/consult/peer-link.ts';
import { memoryStream } from './memory-media.ts';

/** One end of a line in memory. */
interface End {
  readonly role: 'inviting' | 'joining';
  readonly ears: LinkEars;
  readonly own: string;
  other: string | null;
  isOpen: boolean;
}

const BLANK: Omit<ConnectionFacts, 'fingerprint'> = {
  setup: 'actpass',
  user: 'abcd',
  password: 'x'.repeat(24),
  mid: '0',
  candidates: [],
};

/** A line between two sides of one process: what is on the way when it breaks is lost, in both directions. */
export class MemoryLine {
  readonly #ends: End[] = [];
  readonly #streams = new Map<MediaStreamTrack, MediaStream>();
  #isUp = false;
  #way: { readonly to: End; readonly deliver: () => void }[] = [];

  /** Opens links of a side that has this certificate. */
  side(fingerprint: string): (role: 'inviting' | 'joining', ears: LinkEars) => PeerLink {
    return (role, ears) => {
      // eslint-disable-next-line @typescript-eslint/no-this-alias -- a getter of the link asks the line.
      const thisLine = this;
      const end: End = { role, ears, own: fingerprint, other: null, isOpen: true };
      this.#ends.push(end);
      const know = (facts: ConnectionFacts): void => {
        end.other = facts.fingerprint;
      };
      const facts = { ...BLANK, fingerprint };
      return {
        invite: () => Promise.resolve(facts),
        join: (other) => {
          know(other);
          return Promise.resolve(facts);
        },
        accept: (other) => {
          know(other);
          this.setUp(true);
          return Promise.resolve();
        },
        get fingerprints() {
          if (end.other === null) return null;
          return role === 'inviting'
            ? { inviting: end.own, joining: end.other }
            : { inviting: end.other, joining: end.own };
        },
        get isGone() {
          return !end.isOpen || thisLine.#peerOf(end) === null;
        },
        send: (channel, text) => {
          const to = this.#peerOf(end);
          if (!this.#isUp || to === null) return false;
          this.#way.push({ to, deliver: () => to.ears.onText(channel, text) });
          return true;
        },
        openMedia: () => Promise.resolve(),
        // A picture goes the same way as the messages, and comes as a stream of its own.
        show: ({ picture }) => {
          const to = this.#peerOf(end);
          const stream = picture === null ? null : this.#received(picture);
          if (to !== null) this.#way.push({ to, deliver: () => to.ears.onMedia(stream) });
        },
        holdPicture: () => undefined,
        takeDescription: () => Promise.resolve(true),
        close: () => {
          end.isOpen = false;
        },
      };
    };
  }

  /** Delivers what is on the way, and what is answered to it, until nothing is. */
  settle(): void {
    for (let next = this.#way.shift(); next !== undefined; next = this.#way.shift())
      if (next.to.isOpen) next.deliver();
  }

  /** The line breaks, with what is on the way; or is there again. */
  setUp(isUp: boolean): void {
    this.#isUp = isUp;
    if (!isUp) this.#way = [];
    for (const end of this.#ends) if (end.isOpen && this.#peerOf(end) !== null) end.ears.onLine(isUp);
  }

  /** What a sent picture comes as: the same as long as the same is sent. */
  #received(picture: MediaStreamTrack): MediaStream {
    const stream = this.#streams.get(picture) ?? memoryStream();
    this.#streams.set(picture, stream);
    return stream;
  }

  #peerOf(end: End): End | null {
    const isPeer = (one: End): boolean =>
      one.role !== end.role && one.isOpen && one.own === end.other && one.other === end.own;
    return this.#ends.findLast(isPeer) ?? null;
  }
}
