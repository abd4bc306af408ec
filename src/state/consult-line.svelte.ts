import { isStillDue } from '../core/consult/course.ts';
import { CONSULT_LIMITS } from '../core/consult/limits.ts';
import {
  hasJoined,
  NO_LINK,
  stepLink,
  type LinkEnd,
  type LinkEvent,
  type LinkState,
} from '../core/consult/link-state.ts';
import {
  type ConsultSide,
  type EntryContent,
  type EntryMessage,
  type MeasuredPicture,
  type RecordMessage,
} from '../core/consult/messages.ts';
import type { ParcelMessage } from '../core/consult/parcel.ts';
import {
  NOTHING_SENT,
  type LinkChannel,
  type LinkEars,
  type PeerLink,
  type SentMedia,
} from '../core/consult/peer-link.ts';
import { messageProblem, readRecordMessage, type MessageProblem } from '../core/consult/read-message.ts';
import type { LineParts } from './consult-parts.ts';
import type { LineEars, ReturnEars, ReturnWay } from './line-ears.ts';
import { LineRefusals } from './line-refusals.svelte.ts';
import { LineClock } from './line-clock.svelte.ts';
import { LineGreeting } from './line-greeting.svelte.ts';
import { LineChannels } from './line-channels.ts';
import { LineCourse } from './line-course.svelte.ts';
import { LineMedia } from './line-media.svelte.ts';
import { LinePhrase } from './line-phrase.svelte.ts';

type Hello = Extract<RecordMessage, { kind: 'hello' }>;

/**
 * The line of a consult, the same for both sides: check phrase, clocks, the course and its catching up, what is refused. What a
 * message means is the sides' own matter.
 */
export class ConsultLine {
  readonly #side: ConsultSide;
  readonly #parts: LineParts;
  readonly #ears: LineEars;
  readonly #channels: LineChannels;
  #link: PeerLink | null = null;
  #state = $state.raw<LinkState>(NO_LINK);
  readonly greeting: LineGreeting;
  /** The link was made by what only the two sides of a checked one know: nothing is to be compared again. */
  #isReturn = false;
  #hasEntered = false;
  /** The other side's page is a new one, which has not joined yet. */
  #isOtherPage = false;
  /** The one that hears how to come together again. */
  returnEars: ReturnEars | null = null;
  #wasJoined = $state(false);
  readonly phrase: LinePhrase;
  readonly course: LineCourse;
  readonly media = new LineMedia();
  #consultId: string | null = null;
  readonly clock: LineClock;
  readonly refusals = new LineRefusals();
  #timer: ReturnType<typeof setInterval> | undefined;

  constructor(side: ConsultSide, parts: LineParts, ears: LineEars) {
    this.#side = side;
    this.#parts = parts;
    this.#ears = ears;
    this.#channels = new LineChannels(side, ears);
    this.clock = new LineClock(() => parts.nowSeconds() * 1000);
    this.phrase = new LinePhrase(side === 'therapist' ? 'inviting' : 'joining', parts.newNonce);
    this.greeting = new LineGreeting(side, parts);
    this.course = new LineCourse(side);
  }

  get state(): LinkState {
    return this.#state;
  }

  /** True from the first joining to the end, also while the line is down or is being made anew. */
  get wasJoined(): boolean {
    return this.#wasJoined;
  }

  /** The consult that the line is in; null before the first link. */
  get consultId(): string | null {
    return this.#consultId;
  }

  /** Milliseconds for which a line that was checked has been down; 0 while it is up. Infinite where it cannot mend itself. */
  get awayMs(): number {
    if (this.#state.stage !== 'broken' || this.#state.before.stage !== 'joined') return 0;
    return this.#link?.isGone === false ? this.#nowMs - this.#state.sinceMs : Infinity;
  }

  /** Opens a new link in a consult: the first one, or the next after one that broke for good. */
  open(role: 'inviting' | 'joining', consultId: string): PeerLink {
    this.#closeLink();
    if (this.#consultId !== null && this.#consultId !== consultId) this.course.begin();
    this.#consultId = consultId;
    this.greeting.forget();
    this.#hasEntered = false;
    this.#isReturn = false;
    this.phrase.forget();
    this.clock.forget();
    this.media.forget();
    this.#ears.onOtherMedia();
    this.refusals.forget();
    const ears: LinkEars = {
      onLine: (isUp) => this.#lineChanged(link, isUp),
      onText: (channel, text) => this.#take(link, channel, text),
      onMedia: (stream) => {
        this.media.takeStream(stream);
        this.#ears.onOtherMedia();
      },
      onDescription: (message) => this.#send(message),
      onLeft: (left) => {
        if (link !== this.#link) return;
        this.media.left = left;
        this.#send(this.media.showing);
      },
    };
    const link = this.#parts.openLink(role, ears);
    this.#link = link;
    return link;
  }

  /** Opens a link in place of one that was checked and is lost, by a way that only the two sides know. */
  reopen(role: 'inviting' | 'joining', consultId: string): PeerLink {
    const link = this.open(role, consultId);
    this.awaitReturn();
    this.#isReturn = true;
    this.#startTimer();
    return link;
  }

  /** The page was loaded again, or its link is lost: the other side is waited for, however long that takes. */
  awaitReturn(): void {
    this.#step({ kind: 'return', nowMs: this.#nowMs });
  }

  /** From now on a way to the other side is looked for, for so long. */
  connect(patienceSeconds: number): void {
    this.#step({ kind: 'begin', nowMs: this.#nowMs, patienceSeconds });
    this.#startTimer();
  }

  /** Tells the other side where both come together again when the line is lost. */
  tellReturnWay(way: ReturnWay): void {
    this.#send({ kind: 'return-way', ...way });
  }

  /** Sends a part of a record. False where the line takes nothing now. */
  sendParcel(message: ParcelMessage): boolean {
    return this.#channels.sendParcel(this.#link, message, this.#state);
  }

  /** Tells the other side what became of a record. */
  tellKept(number: number, isKept: boolean): void {
    this.#send({ kind: 'parcel-kept', number, isKept });
  }

  /** Says whether the words were the same. */
  sayPhrase(isSame: boolean): void {
    this.#send({ kind: 'phrase', isSame });
    this.#step({ kind: 'phrase', where: 'here', isSame });
  }

  /** Adds an entry to the course. It reaches the other side now, or when the line is back. */
  add(content: EntryContent): void {
    const entry = this.course.add(content, { madeMs: this.#nowMs, at: this.#parts.moment() });
    if (entry !== null && this.#state.stage === 'joined') this.#send(entry);
  }

  /** Sends what was measured in a picture. */
  sendLive(measured: MeasuredPicture): void {
    if (this.#state.stage === 'joined')
      this.#channels.sendLive(this.#link, { ...measured, measuredMs: this.#nowMs });
  }

  /** What is shown and let heard from now on, and in a link that is opened later. */
  show(media: SentMedia): void {
    this.media.sent = media;
    if (this.#state.stage === 'joined') this.#send(this.media.showOn(this.#link));
  }

  /** Lets the other side's picture come so much later, milliseconds. */
  holdPicture(ms: number): void {
    this.#link?.holdPicture(ms);
  }

  /** Ends the consult for both. */
  end(): void {
    this.#send({ kind: 'goodbye' });
    this.#step({ kind: 'end', why: 'here' });
  }

  /** Closes the link without a word: its other side is not there any more, or never was. */
  close(): void {
    clearInterval(this.#timer);
    this.returnEars?.onEnd();
    this.#closeLink();
  }

  #closeLink(): void {
    const link = this.#link;
    if (link === null) return;
    this.#link = null;
    link.close();
    this.#ears.onGone();
  }

  get #nowMs(): number {
    return this.#parts.nowSeconds() * 1000;
  }

  #startTimer(): void {
    clearInterval(this.#timer);
    this.#timer = setInterval(() => {
      this.#step({ kind: 'tick', nowMs: this.#nowMs });
      this.#send(this.clock.ask());
    }, CONSULT_LIMITS.clockSeconds * 1000);
  }

  #step(event: LinkEvent): void {
    const before = this.#state;
    this.#state = stepLink(before, event);
    if (this.#state === before) return;
    if (this.#state.stage === 'joined' && !this.#hasEntered) this.#joined();
    else if (this.#state.stage === 'joined' && before.stage === 'broken') this.#send(...this.course.unsent);
    if (this.#state.stage === 'broken' && before.stage === 'joined') this.#ears.onBroken();
    if (this.#state.stage === 'ended') this.#part(this.#state.why);
  }

  /** Nothing is seen, heard or measured from now on; what is recorded may still be on its way. */
  #part(why: LinkEnd): void {
    const link = this.#link;
    const isFriendly = this.#wasJoined && (why === 'here' || why === 'there');
    clearInterval(this.#timer);
    this.returnEars?.onEnd();
    this.#wasJoined = false;
    this.media.forget();
    this.media.sent = NOTHING_SENT;
    link?.show(NOTHING_SENT);
    if (!isFriendly) this.close();
    void this.#ears.onEnd().finally(() => link === this.#link && this.close());
  }

  #lineChanged(link: PeerLink, isUp: boolean): void {
    if (link !== this.#link) return;
    if (!isUp && this.#state.stage === 'ended') return this.close();
    // A link that was made anew counts when its other side has greeted: what it had tells what is to be sent again.
    if (!isUp || !this.#isReturn || this.#hasEntered)
      this.#step({ kind: isUp ? 'line-up' : 'line-down', nowMs: this.#nowMs });
    const hello =
      isUp && this.#consultId !== null ? this.greeting.say(this.#consultId, this.course.received) : null;
    if (hello === null) return;
    this.#send(hello);
    this.#send(this.clock.ask());
    if (!this.#isReturn) this.#send(...this.phrase.begin(link.fingerprints));
  }

  #joined(): void {
    this.#wasJoined = true;
    this.#hasEntered = true;
    this.#send(...this.course.unsent);
    // A line that closes meanwhile shows nothing, and says so by itself.
    if (this.#side === 'therapist') this.#link?.openMedia().catch(() => undefined);
    this.#send(this.media.showOn(this.#link));
    this.#ears.onJoined(this.#isOtherPage);
    this.#isOtherPage = false;
    this.returnEars?.onJoined();
  }

  #send(...messages: readonly RecordMessage[]): void {
    for (const message of messages) this.#link?.send('record', JSON.stringify(message));
  }

  #take(link: PeerLink, channel: LinkChannel, text: string): void {
    if (link !== this.#link) return;
    if (channel !== 'record') {
      const refused = this.#channels.take(channel, text, {
        state: this.#state,
        hasMoved: this.course.hasMoved,
      });
      return refused === null ? undefined : this.#refuse(refused);
    }
    const read = readRecordMessage(text);
    // After the end only what belongs to a record on its way is heard.
    if (this.#state.stage === 'ended') {
      return read.ok && read.value.kind === 'parcel-kept' ? this.#takeMessage(link, read.value) : undefined;
    }
    const from = this.#side === 'therapist' ? 'patient' : 'therapist';
    const said = { from, isJoined: hasJoined(this.#state), hasMoved: this.course.hasMoved } as const;
    const problem = read.ok ? messageProblem(read.value, said) : read.problem;
    if (problem !== null) this.#refuse(problem);
    if (read.ok && problem === null) this.#takeMessage(link, read.value);
  }

  #takeMessage(link: PeerLink, message: RecordMessage): void {
    switch (message.kind) {
      case 'hello':
        return this.#takeHello(message);
      case 'commitment':
      case 'nonce':
        return this.#takePhrase(link, message);
      case 'phrase':
        return this.#step({ kind: 'phrase', where: 'there', isSame: message.isSame });
      case 'clock-ask':
        return this.#send(this.clock.answer(message));
      case 'clock-answer':
        return this.clock.take(message);
      case 'media':
        void link.takeDescription(message).then((isTaken) => {
          if (!isTaken) this.#refuse('out-of-order');
        });
        return undefined;
      case 'showing':
        this.media.takeShowing(message);
        return this.#ears.onOtherMedia();
      case 'return-way':
        return this.returnEars?.onReturnWay({ place: message.place, secret: message.secret });
      case 'received':
        if (!this.course.noteReceived(message.received)) this.#refuse('out-of-order');
        return undefined;
      case 'parcel-kept':
        return this.#ears.onParcelKept(message.number, message.isKept);
      case 'goodbye':
        return this.#step({ kind: 'end', why: 'there' });
      case 'entry':
        return this.#takeEntry(message);
    }
  }

  #takeEntry(entry: EntryMessage): void {
    const taken = this.course.take(entry);
    if (taken === null) return this.#refuse('out-of-order');
    this.#send({ kind: 'received', received: this.course.received });
    const ageMs = this.clock.ageMs(entry.madeMs);
    if (taken === 'new') this.#ears.onEntry(entry.content, isStillDue(entry.content, ageMs));
  }

  #takeHello(hello: Hello): void {
    const greeted = this.greeting.take(hello, this.#consultId);
    if (greeted === 'other-version') return this.#step({ kind: 'end', why: 'other-version' });
    if (greeted === 'other-consult') return this.#refuse('out-of-order');
    if (greeted === 'new-page') {
      this.course.begin();
      this.#isOtherPage = true;
    }
    // A page that was loaded again has fewer than the other side remembers.
    this.course.noteReceived(hello.received);
    if (this.#isReturn && !this.#hasEntered) this.#step({ kind: 'line-up', nowMs: this.#nowMs });
  }

  /** The other side's first word of it may come before this side is told that the line is up. */
  #takePhrase(link: PeerLink, message: Extract<RecordMessage, { kind: 'commitment' | 'nonce' }>): void {
    this.#send(...this.phrase.begin(link.fingerprints));
    const next = this.phrase.take(message);
    if (next === null) this.#refuse('out-of-order');
    else this.#send(...next);
  }

  #refuse(problem: MessageProblem): void {
    if (this.refusals.note(problem)) this.#step({ kind: 'end', why: 'hostile' });
  }
}
