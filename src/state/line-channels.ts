import { hasJoined, type LinkState } from '../core/consult/link-state.ts';
import { liveText, type ConsultSide, type LiveMessage } from '../core/consult/messages.ts';
import type { ParcelMessage } from '../core/consult/parcel.ts';
import type { PeerLink } from '../core/consult/peer-link.ts';
import { readLiveMessage, type MessageProblem } from '../core/consult/read-message.ts';
import type { LineEars } from './line-ears.ts';

/** The channels on which the side that measures sends: figures, and parts of a record. */
export class LineChannels {
  readonly #side: ConsultSide;
  readonly #ears: Pick<LineEars, 'onLive' | 'onParcel'>;
  #liveNumber = 0;

  constructor(side: ConsultSide, ears: Pick<LineEars, 'onLive' | 'onParcel'>) {
    this.#side = side;
    this.#ears = ears;
  }

  /** Sends what was measured in a picture. */
  sendLive(link: PeerLink | null, measured: Omit<LiveMessage, 'kind' | 'number'>): void {
    this.#liveNumber += 1;
    link?.send('live', liveText({ ...measured, kind: 'live', number: this.#liveNumber }));
  }

  /** Sends a part of a record. False where the line takes nothing now. */
  sendParcel(link: PeerLink | null, message: ParcelMessage, state: LinkState): boolean {
    return isParcelTime(state) && link?.send('parcel', JSON.stringify(message)) === true;
  }

  /** Takes what came; the problem where it is refused. */
  take(
    channel: 'live' | 'parcel',
    text: string,
    { state, hasMoved }: { readonly state: LinkState; readonly hasMoved: boolean },
  ): MessageProblem | null {
    if (this.#side !== 'therapist' && !hasMoved) return 'wrong-side';
    if (channel === 'parcel') return isParcelTime(state) ? this.#ears.onParcel(text) : 'too-early';
    if (state.stage !== 'joined') return 'too-early';
    const read = readLiveMessage(text);
    if (!read.ok) return read.problem;
    this.#ears.onLive(read.value);
    return null;
  }
}

/** Also after the end, for what is on its way. */
function isParcelTime(state: LinkState): boolean {
  return hasJoined(state) || state.stage === 'ended';
}
