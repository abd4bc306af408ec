import type { ClockOffset } from '../core/consult/clock-offset.ts';
import { isStillDue, type CourseLine } from '../core/consult/course.ts';
import { CONSULT_LIMITS } from '../core/consult/limits.ts';
import { NO_LINK, stepLink, type LinkEvent, type LinkState } from '../core/consult/link-state.ts';
import {
  CONSULT_VERSION,
  type ConsultSide,
  type EntryContent,
  type EntryMessage,
  type LiveMessage,
  type RecordMessage,
} from '../core/consult/messages.ts';
import type { LinkEars, PeerLink, SentMedia } from '../core/consult/peer-link.ts';
import {
  messageProblem,
  readLiveMessage,
  readRecordMessage,
  type MessageProblem,
} from '../core/consult/read-message.ts';
import { messageSentence } from '../core/feedback/consult-words.ts';
import type { ConsultParts } from './consult-parts.ts';
import { LineClock } from './line-clock.svelte.ts';
import { LineCourse } from './line-course.svelte.ts';
import { LineMedia, type OtherMedia } from './line-media.svelte.ts';
import { LinePhrase } from './line-phrase.svelte.ts';

/** What a side of a consult does with what comes. */
export interface LineEars {
  /** isDue: false for what came so late that it is only noted. */
  readonly onEntry: (content: EntryContent, isDue: boolean) => void;
  readonly onLive: (message: LiveMessage) => void;
  /** Both sides have said that the check phrase is the same; again after each new link. */
  readonly onJoined: () => void;
  readonly onEnd: () => void;
}

type Hello = Extract<RecordMessage, { kind: 'hello' }>;

/**
 * The line of a consult, the same for both sides: check phrase, clocks, the course and its catching up, what is refused. What a
 * message means is the sides' own matter.
 */
export class ConsultLine {
  readonly #side: ConsultSide;
  readonly #parts: ConsultParts;
  readonly #ears: LineEars;
  #link: PeerLink | null = null;
  #state = $state.raw<LinkState>(NO_LINK);
  #hasGreeted = false;
  #wasJoined = $state(false);
  readonly #phrase: LinePhrase;
  readonly #course: LineCourse;
  readonly #media = new LineMedia();
  readonly #pageId: string;
  #otherPageId: string | null = null;
  #consultId: string | null = null;
  readonly #clock: LineClock;
  #capabilities = $state.raw<readonly string[]>([]);
  #refusals = 0;
  #refused = $state<string | null>(null);
  #liveNumber = 0;
  #timer: ReturnType<typeof setInterval> | undefined;

  constructor(side: ConsultSide, parts: ConsultParts, ears: LineEars) {
    this.#side = side;
    this.#parts = parts;
    this.#ears = ears;
    this.#clock = new LineClock(() => parts.nowSeconds() * 1000);
    this.#phrase = new LinePhrase(side === 'therapist' ? 'inviting' : 'joining', parts.newNonce);
    this.#pageId = parts.newId();
    this.#course = new LineCourse(side);
  }

  get state(): LinkState {
    return this.#state;
  }

  /** True from the first joining to the end, also while the line is down or is being made anew. */
  get wasJoined(): boolean {
    return this.#wasJoined;
  }

  /** The words to compare; null before they are known. */
  get phrase(): readonly string[] | null {
    return this.#phrase.words;
  }

  /** Everything that happened, in the order that both sides have. */
  get lines(): readonly CourseLine[] {
    return this.#course.lines;
  }

  /** The other side's clock against this one's; null before it is known. */
  get offset(): ClockOffset | null {
    return this.#clock.offset;
  }

  get other(): OtherMedia {
    return this.#media.other;
  }

  /** What the other side's machine can do. */
  get capabilities(): readonly string[] {
    return this.#capabilities;
  }

  /** The sentence for the last message that was refused, or null. */
  get refused(): string | null {
    return this.#refused;
  }

  /** Opens a new link in a consult: the first one, or the next after one that broke for good. */
  open(role: 'inviting' | 'joining', consultId: string): PeerLink {
    this.close();
    if (this.#consultId !== null && this.#consultId !== consultId) this.#course.begin();
    this.#consultId = consultId;
    this.#hasGreeted = false;
    this.#phrase.forget();
    this.#clock.forget();
    this.#media.forget();
    this.#refusals = 0;
    this.#refused = null;
    const ears: LinkEars = {
      onLine: (isUp) => this.#lineChanged(link, isUp),
      onText: (channel, text) => this.#take(link, channel, text),
      onMedia: (stream) => this.#media.takeStream(stream),
      onDescription: (message) => this.#send(message),
    };
    const link = this.#parts.openLink(role, ears);
    this.#link = link;
    return link;
  }

  /** From now on a way to the other side is looked for, for so long. */
  connect(patienceSeconds: number): void {
    this.#step({ kind: 'begin', nowMs: this.#nowMs, patienceSeconds });
    this.#timer = setInterval(() => this.#tick(), CONSULT_LIMITS.clockSeconds * 1000);
  }

  /** Says whether the words were the same. */
  sayPhrase(isSame: boolean): void {
    this.#send({ kind: 'phrase', isSame });
    this.#step({ kind: 'phrase', where: 'here', isSame });
  }

  /** Adds an entry to the course. It reaches the other side now, or when the line is back. */
  add(content: EntryContent): void {
    const entry = this.#course.add(content, { madeMs: this.#nowMs, at: this.#parts.moment() });
    if (entry !== null && this.#state.stage === 'joined') this.#send(entry);
  }

  /** Sends what was measured in a picture. */
  sendLive(measured: Omit<LiveMessage, 'kind' | 'number' | 'measuredMs'>): void {
    if (this.#state.stage !== 'joined') return;
    this.#liveNumber += 1;
    const numbered: LiveMessage = {
      ...measured,
      kind: 'live',
      number: this.#liveNumber,
      measuredMs: this.#nowMs,
    };
    this.#link?.send('live', JSON.stringify(numbered));
  }

  /** What is shown and let heard from now on, and in a link that is opened later. */
  show(media: SentMedia): void {
    this.#media.sent = media;
    if (this.#state.stage === 'joined') this.#showNow();
  }

  /** Ends the consult for both. */
  end(): void {
    this.#send({ kind: 'goodbye' });
    this.#step({ kind: 'end', why: 'here' });
  }

  /** Milliseconds since a moment of the other side's clock; null before the clocks are known. */
  ageMs(otherMs: number): number | null {
    return this.#clock.ageMs(otherMs);
  }

  /** Closes the link without a word: its other side is not there any more, or never was. */
  close(): void {
    clearInterval(this.#timer);
    const link = this.#link;
    this.#link = null;
    link?.close();
  }

  get #nowMs(): number {
    return this.#parts.nowSeconds() * 1000;
  }

  #step(event: LinkEvent): void {
    const before = this.#state;
    this.#state = stepLink(before, event);
    if (this.#state === before) return;
    if (this.#state.stage === 'joined' && before.stage === 'checking') this.#joined();
    if (this.#state.stage === 'joined' && before.stage === 'broken') this.#sendAll(this.#course.unsent);
    if (this.#state.stage !== 'ended') return;
    this.close();
    this.#wasJoined = false;
    this.#media.forget();
    this.#ears.onEnd();
  }

  #lineChanged(link: PeerLink, isUp: boolean): void {
    if (link !== this.#link) return;
    this.#step({ kind: isUp ? 'line-up' : 'line-down', nowMs: this.#nowMs });
    if (!isUp || this.#hasGreeted || this.#consultId === null) return;
    this.#hasGreeted = true;
    this.#send({
      kind: 'hello',
      version: CONSULT_VERSION,
      side: this.#side,
      consultId: this.#consultId,
      pageId: this.#pageId,
      capabilities: this.#parts.hasVoice() ? ['voice'] : [],
      received: this.#course.received,
    });
    this.#send(this.#clock.ask());
    this.#sendAll(this.#phrase.begin(link.fingerprints));
  }

  #joined(): void {
    this.#wasJoined = true;
    this.#sendAll(this.#course.unsent);
    // A line that closes meanwhile shows nothing, and says so by itself.
    if (this.#side === 'therapist') this.#link?.openMedia().catch(() => undefined);
    this.#showNow();
    this.#ears.onJoined();
  }

  #showNow(): void {
    this.#send(this.#media.showOn(this.#link));
  }

  #sendAll(messages: readonly RecordMessage[]): void {
    for (const message of messages) this.#send(message);
  }

  #send(message: RecordMessage): void {
    this.#link?.send('record', JSON.stringify(message));
  }

  #tick(): void {
    this.#step({ kind: 'tick', nowMs: this.#nowMs });
    this.#send(this.#clock.ask());
  }

  #take(link: PeerLink, channel: 'record' | 'live', text: string): void {
    if (link !== this.#link) return;
    if (channel === 'live') {
      const read = readLiveMessage(text);
      if (!read.ok) this.#refuse(read.problem);
      else if (this.#side !== 'therapist') this.#refuse('wrong-side');
      else if (this.#state.stage !== 'joined') this.#refuse('too-early');
      else this.#ears.onLive(read.value);
      return;
    }
    const read = readRecordMessage(text);
    const problem = read.ok ? this.#problemOf(read.value) : read.problem;
    if (problem !== null) this.#refuse(problem);
    if (read.ok && problem === null) this.#takeMessage(link, read.value);
  }

  #problemOf(message: RecordMessage): MessageProblem | null {
    const from = this.#side === 'therapist' ? 'patient' : 'therapist';
    return messageProblem(message, { from, isJoined: this.#hasJoined });
  }

  get #hasJoined(): boolean {
    const state = this.#state.stage === 'broken' ? this.#state.before : this.#state;
    return state.stage === 'joined';
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
        return this.#send(this.#clock.answer(message));
      case 'clock-answer':
        return this.#clock.take(message);
      case 'media':
        void link.takeDescription(message).then((isTaken) => {
          if (!isTaken) this.#refuse('out-of-order');
        });
        return undefined;
      case 'showing':
        return this.#media.takeShowing(message);
      case 'received':
        if (!this.#course.noteReceived(message.received)) this.#refuse('out-of-order');
        return undefined;
      case 'goodbye':
        return this.#step({ kind: 'end', why: 'there' });
      case 'entry':
        return this.#takeEntry(message);
    }
  }

  #takeEntry(entry: EntryMessage): void {
    const taken = this.#course.take(entry);
    if (taken === null) return this.#refuse('out-of-order');
    this.#send({ kind: 'received', received: this.#course.received });
    const { content, madeMs } = entry;
    if (taken === 'new') this.#ears.onEntry(content, isStillDue(content, this.ageMs(madeMs)));
  }

  #takeHello({ version, consultId, pageId, received, capabilities }: Hello): void {
    if (version !== CONSULT_VERSION) return this.#step({ kind: 'end', why: 'other-version' });
    if (consultId !== this.#consultId) return this.#refuse('out-of-order');
    if (this.#otherPageId !== null && this.#otherPageId !== pageId) this.#course.begin();
    this.#otherPageId = pageId;
    this.#capabilities = capabilities;
    // A page that was loaded again has fewer than the other side remembers.
    this.#course.noteReceived(received);
  }

  /** The other side's first word of it may come before this side is told that the line is up. */
  #takePhrase(link: PeerLink, message: Extract<RecordMessage, { kind: 'commitment' | 'nonce' }>): void {
    this.#sendAll(this.#phrase.begin(link.fingerprints));
    const next = this.#phrase.take(message);
    if (next === null) this.#refuse('out-of-order');
    else this.#sendAll(next);
  }

  #refuse(problem: MessageProblem): void {
    this.#refusals += 1;
    this.#refused = messageSentence(problem);
    if (this.#refusals >= CONSULT_LIMITS.refusals) this.#step({ kind: 'end', why: 'hostile' });
  }
}
