import {
  invitationText,
  newInvitation,
  sentInvitation,
  takeAnswer,
  type InvitationState,
} from '../core/consult/invitation.ts';
import { CONSULT_LIMITS } from '../core/consult/limits.ts';
import { newMeeting, type OpenMeeting } from '../core/consult/meeting.ts';
import type {
  Consent,
  ConsultSide,
  EntryContent,
  LiveMessage,
  MeasuredPicture,
  Prescription,
} from '../core/consult/messages.ts';
import { NOTHING_SENT, type PeerLink, type SentMedia } from '../core/consult/peer-link.ts';
import type { CueName } from '../core/session/cue-log.ts';
import { invitationSentence } from '../core/feedback/consult-words.ts';
import { sourceSentence } from '../core/feedback/source-problems.ts';
import { valueOf, isMeasured } from '../core/kinematics/measured.ts';
import { ConsultLine } from './consult-line.svelte.ts';
import { LineReturn } from './line-return.svelte.ts';
import { MeetingHost } from './meeting-host.svelte.ts';
import type { ConsultParts } from './consult-parts.ts';
import { ConsultPictures } from './consult-pictures.svelte.ts';
import { ConsultPlans } from './consult-plans.svelte.ts';
import { ConsultSharing } from './consult-sharing.svelte.ts';
import { ConsultShowing } from './consult-showing.svelte.ts';
import type { ReceivedSession } from './received-session.ts';
import { ReceivedMeasuring } from './received-measuring.svelte.ts';
import { ParcelTaking } from './parcel-taking.svelte.ts';
import { waited } from './waited.ts';
import type { TraceValue } from './live-readout.svelte.ts';

/** What the curve keeps, seconds. */
const TRACE_SECONDS = 20;

/** Figures change at most this often, seconds. */
const PUBLISH_SECONDS = 0.2;

/** What was measured so long ago is shown no longer, milliseconds: it would be taken for what is. */
const SILENCE_MS = 2_000;

const NO_WEBRTC =
  'This browser cannot link up with another one. Use a current Chrome, Edge, Firefox or Safari.';
const NOTHING_AGREED: Consent = { picture: false, measuring: false, record: false };

/** What the therapist's side stands on. */
export interface TherapistParts extends ConsultParts {
  readonly received: ReceivedSession;
}

/** A consult from the therapist's side: invites, asks, sees what the patient's machine measures, gives cues. */
export class ConsultTherapist {
  readonly line: ConsultLine;
  /** What comes to be seen, with the figures that belong to it. */
  readonly pictures: ConsultPictures;
  /** How both come together again. */
  readonly way: LineReturn;
  /** Waits at the server for the patient. */
  readonly host: MeetingHost;
  /** The records that the patient's side passes on. */
  readonly taking: ParcelTaking;
  readonly sharing: ConsultSharing;
  readonly showing: ConsultShowing;
  readonly plans: ConsultPlans;
  /** Measures the received picture, while the patient's side lets it. */
  readonly here: ReceivedMeasuring;
  readonly #parts: ConsultParts;
  readonly #consultId: string;
  #link: PeerLink | null = null;
  #invitation = $state.raw<InvitationState | null>(null);
  #text = $state<string | null>(null);
  #meeting = $state.raw<OpenMeeting | null>(null);
  #hasServer = false;
  #problem = $state<string | null>(null);
  #own = $state.raw<SentMedia>(NOTHING_SENT);
  #consent = $state.raw<Consent>(NOTHING_AGREED);
  #prescription = $state.raw<Prescription | null>(null);
  #latest = $state.raw<LiveMessage | null>(null);
  #shown = $state.raw<LiveMessage | null>(null);
  #points: readonly TraceValue[] = [];
  #delayMs = $state<number | null>(null);
  #trace = $state.raw<readonly TraceValue[]>([]);
  #silence: ReturnType<typeof setTimeout> | undefined;
  #cueId = 0;

  constructor(parts: TherapistParts) {
    this.#parts = parts;
    this.#consultId = parts.newId();
    this.taking = new ParcelTaking({
      ...parts,
      tell: (number, isKept) => this.line.tellKept(number, isKept),
    });
    this.line = new ConsultLine('therapist', parts, {
      onEntry: (content) => this.#heard(content),
      onLive: (message) => this.#came(message),
      onOtherMedia: () => this.here.follow(),
      onBroken: () => this.here.lineBroke(),
      onJoined: (isOtherPage) => {
        this.#text = null;
        this.#meeting = null;
        this.here.again();
        // Its camera opens as before once the patient has agreed again.
        if (isOtherPage && this.#prescription !== null) this.prescribe(this.#prescription);
      },
      onParcel: (text) => this.taking.take(text),
      onParcelKept: (number, isKept) => this.here.sending.noteKept(number, isKept),
      onEnd: () => this.#over(),
      onGone: () => this.taking.lineIsGone(),
    });
    this.showing = new ConsultShowing({ course: this.line.course, add: (content) => this.#add(content) });
    this.here = new ReceivedMeasuring({
      ...parts,
      line: this.line,
      showing: this.showing,
      onPicture: (measured) => this.#measuredHere(measured),
    });
    this.sharing = new ConsultSharing({ course: this.line.course, add: (content) => this.#add(content) });
    this.plans = new ConsultPlans(parts.plans);
    this.pictures = new ConsultPictures({
      offsetMs: () => this.line.clock.offset?.offsetMs ?? null,
      hold: (ms) => this.line.holdPicture(ms),
    });
    this.way = new LineReturn('therapist', this.line, parts);
    this.host = new MeetingHost(parts.meetings, {
      onKnock: () => Promise.resolve(this.#invitation?.isUsed === false ? this.#text : null),
      onAnswer: (text) => void this.accept(text),
    });
    this.line.returnEars = {
      onJoined: () => {
        if (this.#hasServer || this.way.isKnown) this.way.offer();
      },
      onReturnWay: () => undefined,
      onEnd: () => {
        this.host.close();
        this.way.end();
      },
    };
  }

  /** The session that was recorded in the consult and is kept here too; null without one. */
  get sessionId(): string | null {
    return this.here.sessionId ?? this.taking.sessionId;
  }

  /** The invitation to be passed on; null before there is one. */
  get invitationText(): string | null {
    return this.#text;
  }

  /** The place at the server where the patient is waited for; null before there is one. */
  get meeting(): OpenMeeting | null {
    return this.#meeting;
  }

  /** When the invitation ends, milliseconds of the wall clock. */
  get invitationEndsMs(): number | null {
    return this.#invitation?.endsMs ?? null;
  }

  /** The sentence for what went wrong last, or null. */
  get problem(): string | null {
    return this.#problem ?? this.here.problem;
  }

  /** What this side shows and lets hear. */
  get own(): SentMedia {
    return this.#own;
  }

  /** What the patient agreed to have sent. */
  get consent(): Consent {
    return this.#consent;
  }

  /** What was asked for last. */
  get prescription(): Prescription | null {
    return this.#prescription;
  }

  /** What was measured in the latest picture; null where nothing comes. */
  get latest(): LiveMessage | null {
    return this.#latest;
  }

  /** The same for figures, which change at most a few times a second: quicker than this they cannot be read. */
  get shown(): LiveMessage | null {
    return this.#shown;
  }

  /** From measuring to its being here, milliseconds; null before it is known. */
  get delayMs(): number | null {
    return this.#delayMs;
  }

  /** The last twenty seconds of elbow flexion, by the pictures' own time. */
  get trace(): readonly TraceValue[] {
    return this.#trace;
  }

  /** Makes a new invitation; one that was made before holds no longer. */
  async invite(): Promise<void> {
    this.#problem = null;
    this.#text = null;
    try {
      const consult = this.line.consultId ?? this.#consultId;
      const link = this.line.open('inviting', consult);
      const facts = await link.invite();
      const ids = { id: this.#parts.newId(), consult };
      this.#link = link;
      this.#invitation = newInvitation(ids, this.#wallMs);
      this.#text = invitationText(sentInvitation(this.#invitation, facts));
      this.#meeting = newMeeting(this.#parts.newNonce());
      const { place, codeSecret, linkSecret } = this.#meeting;
      await this.host.open(place, [codeSecret, linkSecret]);
    } catch {
      this.#problem = NO_WEBRTC;
    }
  }

  /** Takes the answer to the invitation. */
  async accept(text: string): Promise<void> {
    if (this.#invitation === null || this.#link === null) return;
    this.#hasServer = this.host.stage === 'waiting';
    const taken = takeAnswer(this.#invitation, text, this.#wallMs);
    this.#problem = taken.ok ? null : invitationSentence(taken.problem);
    if (!taken.ok) return;
    this.#invitation = taken.value.state;
    this.host.close();
    this.line.connect(CONSULT_LIMITS.connectSeconds);
    try {
      await this.#link.accept(taken.value.facts);
    } catch {
      this.#problem = invitationSentence('damaged');
    }
  }

  /** Opens camera and microphone, or closes them. */
  async showOneself(isShown: boolean): Promise<void> {
    this.#problem = null;
    if (!isShown) return this.#close();
    const opened = await this.#parts.openFaceAndVoice('face-and-voice');
    if (!opened.ok) {
      this.#problem = sourceSentence(opened.problem);
      return;
    }
    if (this.line.state.stage === 'ended') {
      for (const track of Object.values(opened.tracks)) track?.stop();
      return;
    }
    this.#own = opened.tracks;
    this.line.show(opened.tracks);
  }

  prescribe(prescription: Prescription): void {
    this.#prescription = prescription;
    this.#add({ what: 'prescription', prescription });
    this.here.prescribe(prescription);
  }

  /** Asks the patient's page to start a set; it does so where the patient has agreed to be measured. */
  startSet(name: string | null): void {
    this.#add({ what: 'set-asked', action: 'start', name });
  }

  stopSet(): void {
    this.#add({ what: 'set-asked', action: 'stop', name: null });
  }

  /** Asks the patient's side to let it be measured on this machine, or on its own again. */
  measureAt(at: ConsultSide): void {
    this.#add({ what: 'measuring-asked', at });
  }

  /** Gives a cue: one of the usual ones, or own words. */
  giveCue(cue: CueName | null, words: string): void {
    this.#cueId += 1;
    this.#add({ what: 'cue', cueId: this.#cueId, cue, words });
  }

  askPain(): void {
    this.#add({ what: 'pain-asked' });
  }

  note(words: string): void {
    this.#add({ what: 'note', words });
  }

  get #wallMs(): number {
    return Date.parse(this.#parts.moment());
  }

  #add(content: EntryContent): void {
    this.line.add(content);
    this.here.hear('Therapist', content);
  }

  #heard(content: EntryContent): void {
    this.here.hear('Patient', content);
    // What the other machine measured last is not what this one measures.
    if (content.what === 'measured-at') this.#forgetMeasured();
    if (content.what !== 'consent') return;
    this.#consent = content.consent;
    if (!content.consent.measuring) this.#forgetMeasured();
  }

  #came(message: LiveMessage): void {
    // What was on its way when this machine took over.
    if (this.here.isHere) return;
    // One that was overtaken still belongs to a picture that comes later.
    this.pictures.take(message);
    this.#saw(message);
  }

  #measuredHere(measured: MeasuredPicture): void {
    const number = (this.#latest?.number ?? 0) + 1;
    this.#saw({ ...measured, kind: 'live', number, measuredMs: this.#parts.nowSeconds() * 1000 });
  }

  #saw(message: LiveMessage): void {
    // One that was overtaken on its way would turn the clock back.
    if (this.#latest !== null && message.number <= this.#latest.number) return;
    this.#latest = message;
    clearTimeout(this.#silence);
    this.#silence = setTimeout(() => this.#forgetMeasured(), SILENCE_MS);
    const { timeSeconds, elbowFlexionDeg } = message;
    const isLater = timeSeconds > (this.#points.at(-1)?.timeSeconds ?? -Infinity);
    const bounds = isMeasured(elbowFlexionDeg) ? elbowFlexionDeg : { low: null, high: null };
    const point = { timeSeconds, value: valueOf(elbowFlexionDeg), low: bounds.low, high: bounds.high };
    const before = isLater
      ? this.#points.filter((one) => one.timeSeconds >= timeSeconds - TRACE_SECONDS)
      : [];
    this.#points = [...before, point];
    if (isLater && timeSeconds - (this.#shown?.timeSeconds ?? -Infinity) < PUBLISH_SECONDS) return;
    this.#shown = message;
    this.#trace = this.#points;
    this.#delayMs = this.here.isHere ? null : this.line.clock.ageMs(message.measuredMs);
  }

  /** Nothing comes: what was measured last is shown no longer. */
  #forgetMeasured(): void {
    this.pictures.forget();
    this.#latest = null;
    this.#shown = null;
    this.#points = [];
    this.#trace = [];
  }

  async #over(): Promise<void> {
    const isRecordComing = this.#consent.record && !this.here.isHere;
    this.#close();
    this.#text = null;
    this.#invitation = null;
    this.#forgetMeasured();
    this.#consent = NOTHING_AGREED;
    const passed = Promise.all([this.here.over(), isRecordComing ? this.taking.last() : null]);
    await Promise.race([passed, waited(CONSULT_LIMITS.partingSeconds)]);
  }

  #close(): void {
    for (const track of Object.values(this.#own)) track?.stop();
    this.#own = NOTHING_SENT;
    this.line.show(NOTHING_SENT);
  }
}
