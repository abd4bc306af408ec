import { measuredAt, mayMeasureThere } from '../core/consult/measured-at.ts';
import type { Consent, EntryContent, MeasuredPicture, Prescription } from '../core/consult/messages.ts';
import { contentWords } from '../core/feedback/consult-words.ts';
import type { ConsultLine } from './consult-line.svelte.ts';
import { ConsultMeasuring } from './consult-measuring.svelte.ts';
import type { ConsultParts } from './consult-parts.ts';
import { ConsultRecording } from './consult-recording.ts';
import type { ConsultShowing } from './consult-showing.svelte.ts';
import type { LiveSession } from './live-session.svelte.ts';
import { ParcelSending } from './parcel-sending.svelte.ts';
import type { ReceivedSession } from './received-session.ts';

const LINE_BROKE = 'The line broke: this set was measured until then, and not after it';

/** What it stands on. */
interface ReceivedParts extends ConsultParts {
  readonly received: ReceivedSession;
  readonly line: ConsultLine;
  readonly showing: ConsultShowing;
  /** Told of each picture that was measured here. */
  readonly onPicture: (measured: MeasuredPicture) => void;
}

/**
 * The therapist's machine measures the picture that it receives, while the patient's side lets it. Its figures go to the patient's screen, its
 * record is kept here and passed on to the patient's side.
 */
export class ReceivedMeasuring {
  /** The passing on of what is recorded here. */
  readonly sending: ParcelSending;
  readonly #parts: ReceivedParts;
  readonly #recording: ConsultRecording;
  readonly #measuring: ConsultMeasuring;
  #asked: Prescription | null = null;
  /** The picture that is measured, and for what; null while none is. */
  #open: { readonly track: MediaStreamTrack; readonly asked: Prescription } | null = null;
  #before: Promise<void> = Promise.resolve();
  #sessionId = $state<string | null>(null);

  constructor(parts: ReceivedParts) {
    const { line } = parts;
    this.#parts = parts;
    const send = (message: Parameters<ConsultLine['sendParcel']>[0]): boolean =>
      line.course.hasMoved && line.sendParcel(message);
    this.sending = new ParcelSending({ ...parts, send });
    this.#recording = new ConsultRecording({
      ...parts,
      live: this.live,
      sending: this.sending,
      consultId: () => line.consultId,
    });
    this.#measuring = new ConsultMeasuring({
      live: this.live,
      recording: this.#recording,
      showing: parts.showing,
      open: () => {
        const { stream } = line.media.other;
        return stream === null ? Promise.resolve() : parts.received.open(stream);
      },
      statureCm: () => null,
      add: (content) => this.#add(content),
      onPicture: (measured) => {
        if (measured === null || !this.isHere) return;
        // When it was taken is known by the patient's camera alone.
        const told = { ...measured, capturedMs: null };
        if (line.course.hasMoved) line.sendLive(told);
        parts.onPicture(told);
      },
      nowSeconds: parts.nowSeconds,
    });
  }

  get live(): LiveSession {
    return this.#parts.received.live;
  }

  /** Whether the patient's side lets this machine measure. */
  get isHere(): boolean {
    return measuredAt(this.#parts.line.course.lines) === 'therapist';
  }

  /** The session that was recorded here last; null without one. */
  get sessionId(): string | null {
    return this.#sessionId;
  }

  /** What went wrong with measuring or keeping here, or null. */
  get problem(): string | null {
    return this.#open === null ? this.live.keeping.problem : this.live.problem;
  }

  prescribe(asked: Prescription): void {
    this.#asked = asked;
    this.follow();
  }

  /** Opens or closes the received picture by what holds now: who measures, what is asked, what comes. */
  follow(): void {
    const { stream, picture } = this.#parts.line.media.other;
    const [track = null] = picture && stream !== null ? stream.getVideoTracks() : [];
    const asked = this.isHere ? this.#asked : null;
    const wanted = track === null || asked === null ? null : { track, asked };
    if (wanted?.track === this.#open?.track && wanted?.asked === this.#open?.asked) return;
    this.#open = wanted;
    this.#before = this.#before.then(async () => {
      await this.#close(false);
      if (wanted !== null && this.#open === wanted) void this.#measuring.open(wanted.asked);
    });
  }

  /** Takes note of an entry, own or the patient's: what is kept with the session, what ends a set, what was answered. */
  hear(from: 'Therapist' | 'Patient', content: EntryContent): void {
    if (this.isHere) this.#recording.note(`${from}: ${contentWords(content)}`);
    if (content.what === 'consent') this.#consentIs(content.consent);
    else if (content.what === 'measured-at') this.follow();
    else if (content.what === 'repetition-asked' && this.isHere) this.#parts.showing.answer(content);
    else if (content.what === 'pain-answered' && this.isHere) {
      this.live.keeping.answerPain(content.pain);
      void this.#recording.passOn();
    } else if (content.what === 'set-asked' && this.isHere) {
      if (content.action === 'start') this.live.startSet();
      else void this.live.endSet();
    }
  }

  /** The line is down, and the picture with it: a set ends with what was measured of it, and that is said. */
  lineBroke(): void {
    const { stage } = this.live;
    if (!this.isHere || !['counting-in', 'measuring', 'paused'].includes(stage)) return;
    if (stage !== 'counting-in') {
      this.#add({ what: 'note', words: LINE_BROKE });
      this.#recording.note(`Therapist: ${contentWords({ what: 'note', words: LINE_BROKE })}`);
    }
    void this.live.endSet();
  }

  /** Joined again: what is on its way begins anew. */
  again(): void {
    this.sending.again();
  }

  /** The consult is over. Settles when what was recorded here is kept and passed on. */
  async over(): Promise<void> {
    this.#open = null;
    this.#before = this.#before.then(() => this.#close(true));
    await this.#before;
    this.#measuring.end();
    await this.sending.idle();
  }

  #consentIs(consent: Consent): void {
    this.#recording.isPassedOn = consent.record;
    if (consent.record) void this.#recording.takeUpLeft();
    else this.sending.stop();
    if (!mayMeasureThere(consent)) this.follow();
  }

  async #close(isLast: boolean): Promise<void> {
    this.#sessionId = (await this.#measuring.close(isLast)) ?? this.#sessionId;
  }

  /** A patient's page that was loaded again has let nobody measure: then it is not told of what went before. */
  #add(content: EntryContent): void {
    const { line } = this.#parts;
    if (line.course.hasMoved) line.add(content);
  }
}
