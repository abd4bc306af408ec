import type { LeftOut } from '../core/consult/line-quality.ts';
import type { PeerLink, SentMedia } from '../core/consult/peer-link.ts';
import type { RecordMessage } from '../core/consult/messages.ts';

/** What the other side shows and lets hear. */
export interface OtherMedia {
  readonly stream: MediaStream | null;
  readonly picture: boolean;
  readonly sound: boolean;
  /** What the other side leaves out because the line is poor. */
  readonly left: LeftOut;
}

type Showing = Extract<RecordMessage, { kind: 'showing' }>;

const NOTHING_SHOWN: OtherMedia = { stream: null, picture: false, sound: false, left: 'none' };

/** Picture and sound of a consult in both directions, over all its links. */
export class LineMedia {
  #sent: SentMedia = { picture: null, sound: null };
  #left = $state<LeftOut>('none');
  #other = $state.raw<OtherMedia>(NOTHING_SHOWN);

  get other(): OtherMedia {
    return this.#other;
  }

  /** What this side leaves out because the line is poor. */
  get left(): LeftOut {
    return this.#left;
  }

  set left(left: LeftOut) {
    this.#left = left;
  }

  /** What this side shows from now on, and in links that are opened later. */
  set sent(media: SentMedia) {
    this.#sent = media;
  }

  /** Puts what is sent on a link's ways: the message that tells the other side. */
  showOn(link: PeerLink | null): Showing {
    link?.show(this.#sent);
    return this.showing;
  }

  /** What is shown, as it is told to the other side. */
  get showing(): Showing {
    const { picture, sound } = this.#sent;
    return { kind: 'showing', picture: picture !== null, sound: sound !== null, left: this.#left };
  }

  /** Nothing comes any more. */
  forget(): void {
    this.#other = NOTHING_SHOWN;
    this.#left = 'none';
  }

  takeStream(stream: MediaStream | null): void {
    this.#other = { ...this.#other, stream };
  }

  takeShowing({ picture, sound, left }: Showing): void {
    this.#other = { ...this.#other, picture, sound, left };
  }
}
