import type { PoseFrame } from '../pose/pose-frame.ts';
import { assembleRecord, openAnswers, type KeptSet } from './assemble-record.ts';
import {
  givenCueSchema,
  NO_NOTES,
  pauseSchema,
  type GivenCue,
  type Pause,
  type SetNotes,
} from './cue-log.ts';
import { withoutPauses } from './measured-time.ts';
import { PackedPieces } from './packed-pieces.ts';
import { encodeFrames, secondsAcross, type FrameSeries } from './quantised-frames.ts';
import {
  answersSchema,
  sessionHeaderSchema,
  type Answers,
  type SessionHeader,
  type SessionRecord,
  type SetFindings,
} from './session-record.ts';
import type { SessionStore, SetBeginning } from './session-store.ts';
import type { Stored, StorageProblem } from '../stored.ts';
import { judgeHere, type SetJudge } from './set-judge.ts';

/** Frames wait this long at most before they are written. Half of the promised second: the rest is for the writing. */
const LONGEST_WAIT_SECONDS = 0.5;

/** Times nearer to each other than the record's own step, 0.1 ms, cannot be told apart. */
const LEAST_STEP_SECONDS = 0.0001;

/** A step of writing that has not been confirmed, and how many seconds of frames it carries. */
interface Waiting {
  readonly seconds: number;
  readonly write: () => Promise<Stored<null>>;
}

interface SetInProgress {
  readonly beginning: SetBeginning;
  readonly pieces: PackedPieces;
  /** True once its last frame has come; its findings may still be worked on. */
  isEnded: boolean;
  findings: SetFindings | null;
  answers: Answers | null;
  notes: SetNotes;
}

/** What a recorder needs from outside. */
export interface RecorderParts {
  readonly store: SessionStore;
  readonly header: SessionHeader;
  /** Who judges a set when it ends; without one it is done here. */
  readonly judge?: SetJudge;
  /** A clock that only rises, seconds; its zero does not matter. */
  readonly nowSeconds: () => number;
  /** Called when a problem with storage begins (its name) or ends (null). */
  readonly onProblem?: (problem: StorageProblem | null) => void;
}

/**
 * Records one session: gathers frames, writes them at least every second, judges a set when it ends. Everything is
 * also held in memory, so that a full or forbidden store loses nothing: record() gives the whole of it at any time,
 * and what could not be written is tried again with every later step, in order.
 */
export class SessionRecorder {
  readonly #parts: RecorderParts;
  readonly #header: SessionHeader;
  readonly #judge: SetJudge;
  readonly #sets: SetInProgress[] = [];
  #open: SetInProgress | null = null;
  #judging: Promise<unknown> = Promise.resolve();
  #frames: PoseFrame[] = [];
  #waitingSinceSeconds = 0;
  #lastFrameSeconds = -Infinity;
  readonly #queue: Waiting[] = [];
  #writing: Promise<void> | null = null;
  #triedAtSeconds = 0;
  #problem: StorageProblem | null = null;

  /** Throws when the header is not one that a record may have: better at the start than when it is read back. */
  constructor(parts: RecorderParts) {
    this.#parts = parts;
    this.#header = sessionHeaderSchema.parse(parts.header);
    this.#judge = parts.judge ?? judgeHere;
    this.#enqueue(0, () => parts.store.beginSession(this.#header));
  }

  /** What keeps the store from writing now, or null. */
  get problem(): StorageProblem | null {
    return this.#problem;
  }

  /** Seconds of frames that the store has not confirmed yet. */
  get unsavedSeconds(): number {
    const gathered = (this.#frames.at(-1)?.timeSeconds ?? 0) - (this.#frames[0]?.timeSeconds ?? 0);
    return this.#queue.reduce((sum, { seconds }) => sum + seconds, gathered);
  }

  /** Begins a set. Throws while another one is open. */
  beginSet(beginning: SetBeginning): void {
    if (this.#open !== null) throw new Error('beginSet: end the open set first.');
    this.#open = {
      beginning,
      pieces: new PackedPieces(),
      isEnded: false,
      findings: null,
      answers: null,
      notes: NO_NOTES,
    };
    this.#sets.push(this.#open);
    this.#lastFrameSeconds = -Infinity;
    const place = this.#place(this.#sets.length - 1);
    this.#enqueue(0, () => this.#parts.store.beginSet(place, beginning));
  }

  /** Takes a frame of the open set; between sets, or when its time does not rise, the frame is left out. */
  addFrame(frame: PoseFrame): void {
    if (this.#open === null || frame.timeSeconds < this.#lastFrameSeconds + LEAST_STEP_SECONDS) return;
    this.#lastFrameSeconds = frame.timeSeconds;
    if (this.#frames.length === 0) this.#waitingSinceSeconds = this.#parts.nowSeconds();
    this.#frames.push(frame);
    const [first = frame] = this.#frames;
    if (frame.timeSeconds - first.timeSeconds >= LONGEST_WAIT_SECONDS) this.#gather();
    else this.tick();
  }

  /** Writes what has waited long enough. To be called about twice a second, for sources that stall. */
  tick(): void {
    const longAgo = this.#parts.nowSeconds() - LONGEST_WAIT_SECONDS;
    if (this.#frames.length > 0 && this.#waitingSinceSeconds <= longAgo) this.#gather();
    else if (this.#problem !== null && this.#triedAtSeconds <= longAgo) void this.#drain();
  }

  /** Writes everything now, as when the page is hidden; settles when it is written or cannot be. */
  async flush(): Promise<void> {
    this.#gather();
    await this.#drain();
  }

  /**
   * Ends the open set, and settles with what is found in it. Its frames are on their way to the store at once, so that
   * a tab that is closed meanwhile costs the judgement only, which is made up for when the session is taken up again.
   * Rejects when no set is open.
   */
  async finishSet(): Promise<SetFindings> {
    const set = this.#open;
    if (set === null) throw new Error('finishSet: no set is open.');
    this.#gather();
    this.#open = null;
    set.isEnded = true;
    const judging = this.#judgeSet(set);
    this.#judging = Promise.allSettled([this.#judging, judging]);
    return judging;
  }

  async #judgeSet(set: SetInProgress): Promise<SetFindings> {
    const findings = await this.#findingsOf(set.pieces, set.notes);
    set.findings = findings;
    const place = this.#place(this.#sets.indexOf(set));
    this.#enqueue(0, () => this.#parts.store.finishSet(place, findings));
    return findings;
  }

  /** Keeps what the person said about an ended set, instead of what was kept before. */
  answerSet(setIndex: number, answers: Partial<Answers>): void {
    const set = this.#sets[setIndex];
    if (set === undefined || set.findings === null)
      throw new Error(`answerSet: set ${setIndex} has not ended.`);
    const before = set.answers ?? openAnswers(set.beginning, set.findings);
    const all = answersSchema.parse({ ...before, ...answers });
    set.answers = all;
    const place = this.#place(setIndex);
    this.#enqueue(0, () => this.#parts.store.answerSet(place, all));
  }

  /** Notes a cue that was given in the latest set, or in the rest after it. Without a set it is left out. */
  noteCue(cue: GivenCue): void {
    this.#note((notes) => ({ ...notes, cues: [...notes.cues, givenCueSchema.parse(cue)] }));
  }

  /** Notes a pause of the latest set that is over. Frames must not have come in it. */
  notePause(pause: Pause): void {
    this.#note((notes) => ({ ...notes, pauses: [...notes.pauses, pauseSchema.parse(pause)] }));
  }

  /** Ends the session, and the open set with it; settles when all is written or cannot be. */
  async finish(): Promise<void> {
    if (this.#open !== null) await this.finishSet();
    await this.#judging;
    this.#enqueue(0, () => this.#parts.store.finishSession(this.#header.id));
    await this.#drain();
  }

  /** The whole record as it stands when it is asked for, from memory: complete whatever the store could write. */
  async record(): Promise<SessionRecord> {
    this.#gather();
    const sets = this.#sets.map(async (set): Promise<KeptSet> => {
      const { beginning, isEnded, answers, notes } = set;
      const pieces = [...set.pieces];
      // A set that has ended did not break off, although its judge is not done with it.
      const findings = set.findings ?? (isEnded ? await this.#findingsOf(pieces, notes) : null);
      return { beginning, pieces, findings, answers, notes, cutOff: false };
    });
    return assembleRecord(this.#header, await Promise.all(sets), this.#judge);
  }

  async #findingsOf(pieces: Iterable<FrameSeries>, { pauses }: SetNotes): Promise<SetFindings> {
    const { settings, thresholds, estimator } = this.#header;
    return withoutPauses(await this.#judge.judge(pieces, settings, thresholds, estimator.model), pauses);
  }

  #note(change: (notes: SetNotes) => SetNotes): void {
    const set = this.#sets.at(-1);
    if (set === undefined) return;
    const notes = change(set.notes);
    set.notes = notes;
    const place = this.#place(this.#sets.length - 1);
    this.#enqueue(0, () => this.#parts.store.noteSet(place, notes));
  }

  #place(setIndex: number): { sessionId: string; setIndex: number } {
    return { sessionId: this.#header.id, setIndex };
  }

  /** Puts the gathered frames into a piece of the open set. */
  #gather(): void {
    const set = this.#open;
    if (set === null || this.#frames.length === 0) return;
    const piece = encodeFrames(this.#frames);
    this.#frames = [];
    const pieceIndex = set.pieces.length;
    set.pieces.push(piece);
    const place = this.#place(this.#sets.indexOf(set));
    this.#enqueue(secondsAcross([piece]), () => this.#parts.store.appendFrames(place, pieceIndex, piece));
  }

  #enqueue(seconds: number, write: Waiting['write']): void {
    this.#queue.push({ seconds, write });
    void this.#drain();
  }

  /** Writes the queue in order, one step at a time; a step that fails stays in front for the next attempt. */
  #drain(): Promise<void> {
    if (this.#queue.length > 0) this.#writing ??= this.#writeAll();
    return this.#writing ?? Promise.resolve();
  }

  async #writeAll(): Promise<void> {
    for (let next = this.#queue[0]; next !== undefined; next = this.#queue[0]) {
      this.#triedAtSeconds = this.#parts.nowSeconds();
      const written = await next.write();
      this.#report(written.ok ? null : written.problem);
      if (!written.ok) break;
      this.#queue.shift();
    }
    // Cleared here and not by whoever waits: a step that comes in between would find nobody to write it.
    this.#writing = null;
  }

  #report(problem: StorageProblem | null): void {
    if (problem === this.#problem) return;
    this.#problem = problem;
    this.#parts.onProblem?.(problem);
  }
}
