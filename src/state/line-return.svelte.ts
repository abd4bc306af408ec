import {
  answerText,
  invitationText,
  newInvitation,
  readInvitation,
  sentInvitation,
  takeAnswer,
  type InvitationState,
} from '../core/consult/invitation.ts';
import { CONSULT_LIMITS } from '../core/consult/limits.ts';
import { returnMeeting, type Meeting } from '../core/consult/meeting.ts';
import type { ConsultSide } from '../core/consult/messages.ts';
import type { PeerLink } from '../core/consult/peer-link.ts';
import type { ReturnTicket } from '../core/consult/return-ticket.ts';
import type { ConsultLine } from './consult-line.svelte.ts';
import type { ConsultParts } from './consult-parts.ts';
import { MeetingGuest } from './meeting-guest.svelte.ts';
import { MeetingHost } from './meeting-host.svelte.ts';

const LOOK_MS = 1_000;

/** What of a consult's parts coming back stands on. */
type ReturnParts = Omit<ConsultParts, 'left' | 'packing' | 'loadStores' | 'plans'>;

/**
 * Brings the two sides of a checked link together again, when the line is lost or a page was loaded again: at a place and by a
 * secret that were told through that link. The therapist's side waits there, the patient's knocks.
 */
export class LineReturn {
  readonly #side: ConsultSide;
  readonly #line: ConsultLine;
  readonly #parts: ReturnParts;
  readonly #host: MeetingHost;
  readonly #guest: MeetingGuest;
  #meeting: Meeting | null = null;
  /** The link that is being made, with its invitation. */
  #making: { readonly link: PeerLink; readonly text: string; invitation: InvitationState } | null = null;
  #madeSeconds = -Infinity;
  #isTrying = $state(false);
  #timer: ReturnType<typeof setInterval> | undefined;

  constructor(side: ConsultSide, line: ConsultLine, parts: ReturnParts) {
    this.#side = side;
    this.#line = line;
    this.#parts = parts;
    this.#host = new MeetingHost(parts.meetings, {
      onKnock: () => this.#invite(),
      onAnswer: (text) => void this.#accept(text),
    });
    this.#guest = new MeetingGuest(parts.meetings, parts.newId, {
      onInvitation: (text) => this.#answer(text),
      onNobody: () => undefined,
    });
  }

  /** The other side is looked for at the server. */
  get isTrying(): boolean {
    return this.#isTrying;
  }

  /** Both sides know where they come together again. */
  get isKnown(): boolean {
    return this.#meeting !== null;
  }

  /** Makes the place where both come together again, and tells the other side. By the therapist's side, once. */
  offer(): void {
    if (this.#meeting === null) this.#begin(returnMeeting(this.#parts.newNonce(), this.#parts.newNonce()));
    if (this.#meeting !== null) this.#line.tellReturnWay(this.#meeting);
  }

  /** The other side has told the place. */
  take(meeting: Meeting): void {
    this.#begin(meeting);
  }

  /** The page was loaded again: goes back into the consult of this ticket. */
  resume({ consultId, ...meeting }: ReturnTicket): void {
    this.#line.reopen(this.#side === 'therapist' ? 'inviting' : 'joining', consultId);
    this.#begin(meeting);
    void this.#try(meeting);
  }

  /** The consult is over. */
  end(): void {
    this.#rest();
    clearInterval(this.#timer);
    this.#meeting = null;
    this.#parts.tickets.save(null);
  }

  #begin({ place, secret }: Meeting): void {
    this.#meeting = { place, secret };
    clearInterval(this.#timer);
    this.#timer = setInterval(() => this.#look(), LOOK_MS);
    this.#keepTicket();
  }

  #keepTicket(): void {
    const { consultId } = this.#line;
    if (this.#meeting === null || consultId === null) return;
    this.#parts.tickets.save({ ...this.#meeting, side: this.#side, consultId, savedMs: this.#wallMs });
  }

  #look(): void {
    const { awayMs, state } = this.#line;
    if (state.stage === 'joined') {
      this.#keepTicket();
      this.#rest();
      return;
    }
    const { mendSeconds, remakeSeconds } = CONSULT_LIMITS;
    const isMaking = this.#parts.nowSeconds() - this.#madeSeconds < remakeSeconds;
    if (this.#meeting === null || isMaking || awayMs < mendSeconds * 1000) return;
    const isKnocking = this.#side === 'therapist' ? this.#isTrying : this.#guest.isKnocking && !this.#isStale;
    if (!isKnocking) void this.#try(this.#meeting);
  }

  /** An invitation was answered, and no line came of it. */
  get #isStale(): boolean {
    return this.#madeSeconds > -Infinity;
  }

  async #try(meeting: Meeting): Promise<void> {
    this.#isTrying = true;
    this.#making = null;
    this.#madeSeconds = -Infinity;
    if (this.#side === 'therapist') await this.#host.open(meeting.place, [meeting.secret]);
    else await this.#guest.knock(meeting, 'for-ever');
  }

  #rest(): void {
    this.#isTrying = false;
    this.#making = null;
    this.#madeSeconds = -Infinity;
    this.#host.close();
    this.#guest.close();
  }

  /** Somebody who knows the secret knocks: a new link, unless one is being made. */
  async #invite(): Promise<string | null> {
    const { consultId } = this.#line;
    const isMaking = this.#parts.nowSeconds() - this.#madeSeconds < CONSULT_LIMITS.remakeSeconds;
    if (consultId === null) return null;
    if (isMaking) return this.#making !== null && !this.#making.invitation.isUsed ? this.#making.text : null;
    this.#madeSeconds = this.#parts.nowSeconds();
    this.#making = null;
    const link = this.#line.reopen('inviting', consultId);
    const facts = await link.invite().catch(() => null);
    if (facts === null) return null;
    const invitation = newInvitation({ id: this.#parts.newId(), consult: consultId }, this.#wallMs);
    const text = invitationText(sentInvitation(invitation, facts));
    this.#making = { link, text, invitation };
    return text;
  }

  async #accept(text: string): Promise<void> {
    if (this.#making === null) return;
    const taken = takeAnswer(this.#making.invitation, text, this.#wallMs);
    if (!taken.ok) return;
    this.#making.invitation = taken.value.state;
    // A link that closes meanwhile is made anew after a while.
    await this.#making.link.accept(taken.value.facts).catch(() => undefined);
  }

  async #answer(text: string): Promise<string | null> {
    const read = readInvitation(text, this.#wallMs);
    if (!read.ok || read.value.consult !== this.#line.consultId) return null;
    this.#madeSeconds = this.#parts.nowSeconds();
    const link = this.#line.reopen('joining', read.value.consult);
    const facts = await link.join(read.value.facts).catch(() => null);
    return facts === null ? null : answerText({ id: read.value.id, facts });
  }

  get #wallMs(): number {
    return Date.parse(this.#parts.moment());
  }
}
