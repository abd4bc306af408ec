import { answerText, readInvitation } from '../core/consult/invitation.ts';
import { CONSULT_LIMITS } from '../core/consult/limits.ts';
import { readMeeting } from '../core/consult/meeting.ts';
import { mayMeasureThere } from '../core/consult/measured-at.ts';
import type { Consent, ConsultSide, EntryContent, Prescription } from '../core/consult/messages.ts';
import { NOTHING_SENT, type SentMedia } from '../core/consult/peer-link.ts';
import type { Announcer } from '../core/feedback/announcer.ts';
import { CUE_TABLE } from '../core/feedback/cue-table.ts';
import { contentWords, invitationSentence, noMeetingSentence } from '../core/feedback/consult-words.ts';
import type { Role } from '../core/feedback/live-words.ts';
import type { OpenedSource } from '../core/pose/frame-source.ts';
import type { OpenOwnPictures, OwnPictures } from '../core/consult/own-pictures.ts';
import { ConsultLine } from './consult-line.svelte.ts';
import { LineReturn } from './line-return.svelte.ts';
import { MeetingGuest } from './meeting-guest.svelte.ts';
import { ConsultSharing } from './consult-sharing.svelte.ts';
import { ConsultShowing } from './consult-showing.svelte.ts';
import type { ConsultParts } from './consult-parts.ts';
import { ConsultMeasuring } from './consult-measuring.svelte.ts';
import { ConsultRecording } from './consult-recording.ts';
import type { LiveSession } from './live-session.svelte.ts';
import { MeasuredThere } from './measured-there.svelte.ts';
import { ParcelSending } from './parcel-sending.svelte.ts';
import { ParcelTaking } from './parcel-taking.svelte.ts';
import { waited } from './waited.ts';
import type { Settings } from './settings.svelte.ts';

/** A cue of the therapist's stands on the screen for so long, milliseconds: read twice over. Chosen for this tool. */
const CUE_MS = 5_000;
const NO_SOUND =
  'The microphone could not be opened, so the picture goes without sound. Allow it by the sign beside the address, then agree again.';
const NOTHING_AGREED: Consent = { picture: false, measuring: false, record: false };

type AskedCue = Extract<EntryContent, { what: 'cue' }>;

/** What the patient's side stands on. */
export interface PatientParts extends ConsultParts {
  readonly live: LiveSession;
  readonly settings: Settings;
  readonly announcer: Announcer;
  readonly openOwnPictures: OpenOwnPictures;
  /** Opens a camera; null lets the browser choose. */
  readonly openCamera: (cameraId: string | null) => Promise<OpenedSource>;
}

/** A consult from the patient's side: joins, agrees and takes back, is measured here, hears cues. */
export class ConsultPatient {
  readonly line: ConsultLine;
  /** How both come together again. */
  readonly way: LineReturn;
  /** Knocks at the server where the therapist waits. */
  readonly guest: MeetingGuest;
  readonly live: LiveSession;
  /** What comes while the therapist's machine measures. */
  readonly there: MeasuredThere;
  /** The records of what was measured there. */
  readonly taking: ParcelTaking;
  /** The passing on of what is recorded. */
  readonly sending: ParcelSending;
  readonly #recording: ConsultRecording;
  readonly #measuring: ConsultMeasuring;
  readonly sharing: ConsultSharing;
  readonly showing: ConsultShowing;
  readonly #parts: PatientParts;
  #text = $state<string | null>(null);
  #problem = $state<string | null>(null);
  #consent = $state.raw<Consent>(NOTHING_AGREED);
  #asked = $state.raw<Prescription | null>(null);
  #cue = $state.raw<{ readonly words: string; readonly role: Role } | null>(null);
  #isPainAsked = $state(false);
  #sessionId = $state<string | null>(null);
  #sound: MediaStreamTrack | null = null;
  #shown: SentMedia = NOTHING_SENT;
  #cueTimer: ReturnType<typeof setTimeout> | undefined;
  #ownPictures: OwnPictures | null = null;

  constructor(parts: PatientParts) {
    this.#parts = parts;
    this.live = parts.live;
    this.line = new ConsultLine('patient', parts, {
      onEntry: (content, isDue) => this.#heard(content, isDue),
      onLive: (message) => this.there.take(message),
      onOtherMedia: () => undefined,
      onBroken: () => this.there.forget(),
      onJoined: () => {
        this.#text = null;
        const { isThere } = this.there;
        this.line.add({ what: 'consent', consent: this.#consent });
        // A page of the therapist's that was loaded again does not know it.
        if (isThere) this.line.add({ what: 'measured-at', at: 'therapist' });
        this.sending.again();
        void this.#recording.takeUpLeft();
      },
      onParcel: (text) => (this.#recording.isPassedOn ? this.taking.take(text) : null),
      onParcelKept: (number, isKept) => this.sending.noteKept(number, isKept),
      onEnd: () => this.#over(),
      onGone: () => this.taking.lineIsGone(),
    });
    this.way = new LineReturn('patient', this.line, parts);
    this.guest = new MeetingGuest(parts.meetings, parts.newId, {
      onInvitation: (text) => this.#answer(text, CONSULT_LIMITS.connectSeconds),
      onNobody: (why) => (this.#problem = noMeetingSentence(why)),
    });
    this.line.returnEars = {
      onJoined: () => this.guest.close(),
      onReturnWay: (meeting) => this.way.take(meeting),
      onEnd: () => {
        this.guest.close();
        this.way.end();
      },
    };
    this.sending = new ParcelSending({ ...parts, send: (message) => this.line.sendParcel(message) });
    this.#recording = new ConsultRecording({
      ...parts,
      sending: this.sending,
      consultId: () => this.line.consultId,
    });
    this.sharing = new ConsultSharing(this.line);
    this.showing = new ConsultShowing(this.line);
    this.taking = new ParcelTaking({
      ...parts,
      tell: (number, isKept) => this.line.tellKept(number, isKept),
    });
    const { cameraId } = parts.settings.now;
    this.there = new MeasuredThere({
      ...parts,
      line: this.line,
      openCamera: () => parts.openCamera(cameraId),
    });
    this.#measuring = new ConsultMeasuring({
      ...parts,
      recording: this.#recording,
      showing: this.showing,
      open: () => this.live.openCamera(),
      statureCm: () => parts.settings.now.statureCm,
      add: (content) => this.line.add(content),
      onPicture: (measured) => {
        this.#showWhatIsAgreed();
        if (this.#consent.measuring && measured !== null) this.line.sendLive(measured);
      },
    });
  }

  /** The answer to be passed back; null before there is one. */
  get answerText(): string | null {
    return this.#text;
  }

  get problem(): string | null {
    return this.#problem ?? this.there.problem ?? this.live.problem;
  }

  /** What is sent to the therapist. */
  get consent(): Consent {
    return this.#consent;
  }

  /** What the therapist asks for; null before that. */
  get asked(): Prescription | null {
    return this.#asked;
  }

  /** The therapist's cue, while it stands there. */
  get cue(): { readonly words: string; readonly role: Role } | null {
    return this.#cue;
  }

  get isPainAsked(): boolean {
    return this.#isPainAsked;
  }

  /** The session that was recorded in the consult and is kept; null without one. */
  get sessionId(): string | null {
    return (this.there.isThere ? this.taking.sessionId : null) ?? this.#sessionId ?? this.taking.sessionId;
  }

  /** Answers an invitation: by a code or a link of a server it goes by itself, otherwise the answer is to be passed back. */
  async join(text: string): Promise<void> {
    this.#problem = null;
    this.#text = null;
    const meeting = readMeeting(text);
    if (meeting !== null) return this.guest.knock(meeting, 'a-while');
    // An answer that goes back by hand takes its time.
    this.#text = await this.#answer(text, CONSULT_LIMITS.invitationMinutes * 60);
  }

  /** The answer to an invitation; null, and a problem, where it is none. */
  async #answer(text: string, patienceSeconds: number): Promise<string | null> {
    const read = readInvitation(text, Date.parse(this.#parts.moment()));
    if (!read.ok) {
      this.#problem = invitationSentence(read.problem);
      return null;
    }
    try {
      const link = this.line.open('joining', read.value.consult);
      const facts = await link.join(read.value.facts);
      this.line.connect(patienceSeconds);
      return answerText({ id: read.value.id, facts });
    } catch {
      this.#problem = invitationSentence('damaged');
      return null;
    }
  }

  /** Agrees to what is sent, and opens what it needs; or takes it back. */
  async agree(consent: Consent): Promise<void> {
    this.#problem = null;
    this.#consent = consent;
    this.#recording.isPassedOn = consent.record;
    if (consent.record) void this.#recording.takeUpLeft();
    else this.sending.stop();
    const wasThere = this.there.isThere;
    this.line.add({ what: 'consent', consent });
    if (wasThere && !this.there.isThere) this.line.add({ what: 'measured-at', at: 'patient' });
    if ((!consent.measuring && !consent.picture) || wasThere !== this.there.isThere)
      await this.#closeSource();
    if ((consent.measuring || consent.picture) && this.live.stage === 'none') void this.#openSource();
    if (consent.picture && this.#sound === null) await this.#openSound();
    this.#showWhatIsAgreed();
  }

  /** Answers how much it hurts, 0 to 10. */
  answerPain(pain: number): void {
    this.#isPainAsked = false;
    this.#add({ what: 'pain-answered', pain });
    if (this.there.isThere) return;
    this.live.keeping.answerPain(pain);
    void this.#recording.passOn();
  }

  /** Ends the set that runs, wherever it is measured. */
  endSet(): void {
    if (this.there.isThere) this.#add({ what: 'set-asked', action: 'stop', name: null });
    else void this.live.endSet();
  }

  /** Ends the set and the consult, and takes all consent back. */
  stopEverything(): void {
    this.line.end();
  }

  /** Adds to the course, and to what is kept with the session. */
  #add(content: EntryContent): void {
    this.line.add(content);
    this.#recording.note(`Patient: ${contentWords(content)}`);
  }

  #heard(content: EntryContent, isDue: boolean): void {
    if (content.what === 'picture-frozen') this.#holdStill(content.pictureId, content.capturedMs);
    const missed = isDue ? '' : ' (came too late and was not done)';
    this.#recording.note(`Therapist: ${contentWords(content)}${missed}`);
    if (content.what === 'repetition-asked' && !this.there.isThere) this.showing.answer(content);
    else if (content.what === 'prescription') void this.#takePrescription(content.prescription);
    else if (content.what === 'cue') this.#takeCue(content, isDue);
    else if (content.what === 'pain-asked') this.#isPainAsked = this.#isPainAsked || isDue;
    else if (content.what === 'measuring-asked') void this.#takeMeasuringAsked(content.at, isDue);
    else if (this.there.isThere) return;
    else if (content.what === 'set-asked' && content.action === 'stop') void this.live.endSet();
    else if (content.what === 'set-asked' && isDue && this.#consent.measuring) this.live.startSet();
  }

  /** Both look at the same picture: this machine's own copy of it, where it still has it. */
  #holdStill(pictureId: number, capturedMs: number): void {
    const kept = this.#ownPictures?.near(capturedMs) ?? null;
    if (kept !== null) this.sharing.have(pictureId, kept.image);
  }

  /** Another exercise needs a session of its own. What was recorded until then is kept. */
  async #takePrescription(asked: Prescription): Promise<void> {
    this.#asked = asked;
    if (!this.there.isThere) await this.#closeSource();
    if (this.#consent.picture || this.#consent.measuring) void this.#openSource();
  }

  #takeCue({ cueId, cue, words }: AskedCue, isDue: boolean): void {
    if (!isDue) return;
    const { announcer, settings } = this.#parts;
    const row = cue === null ? null : CUE_TABLE[cue];
    const isSaid = settings.now.voice && announcer.say(row?.spoken ?? words, 'now');
    const isToned = !isSaid && settings.now.tones;
    if (isToned) announcer.tone(row?.tone ?? 'correction');
    this.#cue = { words: row?.shown ?? words, role: row?.role ?? 'attention' };
    clearTimeout(this.#cueTimer);
    this.#cueTimer = setTimeout(() => (this.#cue = null), CUE_MS);
    this.#add({ what: 'cue-heard', cueId, by: isSaid ? 'voice' : isToned ? 'tone' : 'caption' });
  }

  /** The therapist wishes it to be measured on another machine. Not in a set, and not without what it needs: the answer says where it is. */
  async #takeMeasuringAsked(at: ConsultSide, isDue: boolean): Promise<void> {
    const isFree = !['measuring', 'paused', 'finishing'].includes(this.live.stage);
    const may = isDue && isFree && (at === 'patient' || mayMeasureThere(this.#consent));
    const from = this.there.isThere ? 'therapist' : 'patient';
    this.#add({ what: 'measured-at', at: may ? at : from });
    if (!may || at === from) return;
    await this.#closeSource();
    void this.#openSource();
  }

  /** Opens the camera for what is asked: to be measured here, or to be sent only. Settles when what is measured here ends. */
  async #openSource(): Promise<void> {
    if (this.there.isThere) {
      await this.there.openCamera();
      this.#showWhatIsAgreed();
    } else if (this.#asked !== null) await this.#measuring.open(this.#asked);
  }

  async #openSound(): Promise<void> {
    const opened = await this.#parts.openFaceAndVoice('voice');
    if (!opened.ok) {
      this.#problem = NO_SOUND;
      return;
    }
    this.#sound = opened.tracks.sound;
    if (!this.#consent.picture) this.#closeSound();
  }

  #closeSound(): void {
    this.#sound?.stop();
    this.#sound = null;
  }

  /** The measured camera's own picture is sent: nobody is seen by another camera than they see. */
  #showWhatIsAgreed(): void {
    if (!this.#consent.picture) this.#closeSound();
    const feed = this.live.stream.source?.feed;
    const stream = this.there.stream ?? (feed?.kind === 'live' ? feed.stream : null);
    const [picture = null] = stream?.getVideoTracks() ?? [];
    const media = this.#consent.picture
      ? { picture, sound: this.#sound, isMeasured: this.there.stream !== null }
      : NOTHING_SENT;
    if (media.picture === this.#shown.picture && media.sound === this.#shown.sound) return;
    this.#shown = media;
    this.line.show(media);
    this.#ownPictures?.close();
    const isSent = media.picture !== null && stream !== null;
    this.#ownPictures = isSent ? this.#parts.openOwnPictures(stream) : null;
  }

  async #closeSource(isLast = false): Promise<void> {
    this.there.close();
    this.#sessionId = (await this.#measuring.close(isLast)) ?? this.#sessionId;
    this.#showWhatIsAgreed();
  }

  async #over(): Promise<void> {
    const isRecordComing = this.there.isThere;
    this.#consent = NOTHING_AGREED;
    this.#text = null;
    this.#cue = null;
    this.#isPainAsked = false;
    await this.#closeSource(true);
    this.#measuring.end();
    const passed = Promise.all([this.sending.idle(), isRecordComing ? this.taking.last() : null]);
    await Promise.race([passed, waited(CONSULT_LIMITS.partingSeconds)]);
  }
}
