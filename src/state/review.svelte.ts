import {
  drawnFrame,
  measuredAt,
  type DrawnFrame,
  type MeasuredSet,
  reasonAt,
} from '../core/session/measured-set.ts';
import type { AskedPart } from '../core/exercises/judge-by-hand.ts';
import type { SetJudgement } from '../core/exercises/judgement.ts';
import type { Measured } from '../core/kinematics/measured.ts';
import type { HangingPerson } from '../core/loads/measured-body-curl.ts';
import type { PlanStore } from '../core/plan/plan-store.ts';
import type { OpenedRecord, RecordOpener, RecordOutline, SetOutline } from '../core/session/record-opener.ts';
import type { KeptVideos } from './kept-videos.svelte.ts';
import type { StorageProblem } from '../core/stored.ts';
import { nearestIndex } from '../core/signal/nearest-index.ts';

const NO_TIMES = new Float64Array();

/** How far measuring a set is: the share done, and in the end the set. */
interface Measuring {
  readonly share: number;
  readonly measured: MeasuredSet | null;
}

/** What is shown of the frame at the cursor. */
export interface FrameAtCursor {
  readonly drawn: DrawnFrame;
  readonly elbowFlexionDeg: Measured;
  readonly isMeasured: boolean;
  /** Its left and right were found exchanged and put right. */
  readonly isExchanged: boolean;
}

/**
 * One record under review: opens it, has the selected set measured again from its stored landmarks, and holds the
 * moment that trace, replay and tables share. Times are seconds of the record's source clock.
 */
export class Review {
  readonly #opener: RecordOpener;
  readonly #plans: Pick<PlanStore, 'loadVersion'>;
  readonly #loadVideos: (() => Promise<KeptVideos>) | null;
  #videos = $state.raw<KeptVideos | null>(null);
  #opened: OpenedRecord | null = null;
  #record = $state.raw<RecordOutline | null>(null);
  #hanging = $state.raw<HangingPerson | null>(null);
  #problem = $state.raw<StorageProblem | null>(null);
  #asked = 0;
  /** Where to go in the selected set once it is measured; null: to its first frame. */
  #wantedSeconds: number | null = null;
  /** One for each set of the open record; null until it is asked for. */
  #sets = $state.raw<readonly (Measuring | null)[]>([]);
  #selectedSet = $state(0);
  #cursorSeconds = $state(0);
  #playing = $state(false);
  speed = $state(1);

  readonly #measured = $derived(this.#sets[this.#selectedSet]?.measured ?? null);
  readonly #times = $derived(this.#measured?.timesSeconds ?? NO_TIMES);
  readonly #cursorIndex = $derived(nearestIndex(this.#times, this.#cursorSeconds));
  readonly #frame = $derived(this.#measured === null ? null : frameAt(this.#measured, this.#cursorIndex));

  /**
   * plans: those that records followed, for what a record does not say of the person. loadVideos: the kept videos of sets, null
   * where none can be kept.
   */
  constructor(
    opener: RecordOpener,
    plans: Pick<PlanStore, 'loadVersion'>,
    loadVideos: (() => Promise<KeptVideos>) | null = null,
  ) {
    this.#opener = opener;
    this.#plans = plans;
    this.#loadVideos = loadVideos;
  }

  /** The kept videos of the open record's sets; null while they are not looked up and where none can be kept. */
  get videos(): KeptVideos | null {
    return this.#videos;
  }

  /** The record without its frames, or null while it loads and when it could not be had. */
  get record(): RecordOutline | null {
    return this.#record;
  }

  /** Who hangs from the bar, by the plan that the record followed; null where nothing is known of that. */
  get hanging(): HangingPerson | null {
    return this.#hanging;
  }

  /** Why the record could not be had. */
  get problem(): StorageProblem | null {
    return this.#problem;
  }

  /** Place of the selected set, from 0. */
  get selectedSet(): number {
    return this.#selectedSet;
  }

  get set(): SetOutline | null {
    return this.#record?.sets[this.#selectedSet] ?? null;
  }

  /** The selected set, measured; null while that goes on. */
  get measured(): MeasuredSet | null {
    return this.#measured;
  }

  /** How much of measuring the selected set is done, 0 to 1. */
  get measuredShare(): number {
    return this.#sets[this.#selectedSet]?.share ?? 0;
  }

  /** The frame nearest to the cursor; null without a measured set, and for one without frames. */
  get frame(): FrameAtCursor | null {
    return this.#frame;
  }

  get cursorSeconds(): number {
    return this.#cursorSeconds;
  }

  get playing(): boolean {
    return this.#playing;
  }

  /** The whole record as a file. Rejects when no record is open. */
  recordFile(): Promise<Blob> {
    return this.#open().recordFile();
  }

  /** Parts of the selected set judged by hand; null when one of them cannot be measured. Rejects when no record is open. */
  judgeParts(parts: readonly AskedPart[]): Promise<SetJudgement | null> {
    return this.#open().judgeParts(this.#selectedSet, parts);
  }

  /** A set, measured; null where that has not been done. */
  measuredSet(index: number): MeasuredSet | null {
    return this.#sets[index]?.measured ?? null;
  }

  /** Has the other sets measured too, one after the other. */
  async measureAll(): Promise<void> {
    const opened = this.#opened;
    for (let index = 0; index < this.#sets.length && this.#opened === opened; index++)
      await this.#measure(index);
  }

  /** The table of all frames of all sets as a file. Rejects when no record is open. */
  framesFile(): Promise<Blob> {
    return this.#open().framesFile();
  }

  /** Opens a record; one that is asked for later wins over one that arrives later. */
  async open(sessionId: string): Promise<void> {
    this.#asked += 1;
    const asked = this.#asked;
    this.#close();
    const opened = await this.#opener.open(sessionId);
    if (this.#asked !== asked) {
      if (opened.ok) opened.value.close();
      return;
    }
    if (!opened.ok) {
      this.#problem = opened.problem;
      return;
    }
    this.#opened = opened.value;
    this.#record = opened.value.outline;
    this.#sets = opened.value.outline.sets.map(() => null);
    this.selectSet(0);
    void this.#lookForVideos(sessionId, asked);
    const hanging = await this.#hangingOf(opened.value.outline);
    if (this.#asked === asked) this.#hanging = hanging;
  }

  async #lookForVideos(sessionId: string, asked: number): Promise<void> {
    const videos = (await this.#loadVideos?.()) ?? null;
    await videos?.look(sessionId);
    if (this.#asked === asked) this.#videos = videos;
  }

  async #hangingOf({ plan: followed }: RecordOutline): Promise<HangingPerson | null> {
    if (followed === null) return null;
    const version = await this.#plans.loadVersion(followed.planId, followed.planVersion);
    if (!version.ok) return null;
    const { hangingPerson } = await import('../core/plan/planned-load.ts');
    return hangingPerson(version.value, followed.exerciseKey);
  }

  #close(): void {
    this.#videos = null;
    this.#opened?.close();
    this.#opened = null;
    this.#record = null;
    this.#problem = null;
    this.#hanging = null;
    this.#playing = false;
    this.#sets = [];
  }

  #open(): OpenedRecord {
    if (this.#opened === null) throw new Error('Review: no record is open.');
    return this.#opened;
  }

  /** Turns to another set, puts the cursor at its first frame, and has it measured when it is not yet. */
  selectSet(index: number): void {
    this.#playing = false;
    this.#selectedSet = index;
    this.#wantedSeconds = null;
    this.#cursorSeconds = this.#times[0] ?? 0;
    if (this.set !== null) void this.#measure(index);
  }

  async #measure(index: number): Promise<void> {
    const opened = this.#open();
    if (this.#sets[index] !== null) return;
    const tell = (measuring: Measuring): void => {
      if (this.#opened === opened) this.#sets = this.#sets.with(index, measuring);
    };
    tell({ share: 0, measured: null });
    try {
      const measured = await opened.measure(index, (share) => tell({ share, measured: null }));
      tell({ share: 1, measured });
      if (this.#opened !== opened) return;
      if (index === this.#selectedSet) this.#place(this.#wantedSeconds ?? 0);
    } catch {
      // Frames of which nothing can be worked out, or that went away meanwhile.
      if (this.#opened === opened) this.#problem = 'unreadable';
    }
  }

  /** Turns to a moment of any set, also of one that is still to be measured. */
  show(setIndex: number, seconds: number): void {
    if (setIndex !== this.#selectedSet) this.selectSet(setIndex);
    this.#wantedSeconds = seconds;
    this.goTo(seconds);
  }

  /** Puts the cursor at a moment, at most to the ends of the set, and pauses there. */
  goTo(seconds: number): void {
    this.#playing = false;
    this.#place(seconds);
  }

  #place(seconds: number): void {
    const first = this.#times[0] ?? 0;
    this.#cursorSeconds = Math.min(Math.max(seconds, first), this.#times.at(-1) ?? first);
  }

  /** Steps by frames and pauses. */
  step(frames: number): void {
    this.#playing = false;
    const index = Math.min(Math.max(this.#cursorIndex + frames, 0), this.#times.length - 1);
    this.#cursorSeconds = this.#times[index] ?? 0;
  }

  /** Plays or pauses; at the end it plays from the start. */
  togglePlaying(): void {
    if (!this.#playing && this.#isAtEnd) this.#cursorSeconds = this.#times[0] ?? 0;
    this.#playing = !this.#playing;
  }

  /** Moves on by a time that has passed, at the chosen speed; pauses at the end. */
  advance(elapsedSeconds: number): void {
    this.follow(this.#cursorSeconds + elapsedSeconds * this.speed);
  }

  /** Follows a clip that leads; pauses at the end of the set. */
  follow(seconds: number): void {
    this.#place(seconds);
    if (this.#isAtEnd) this.#playing = false;
  }

  get #isAtEnd(): boolean {
    return this.#cursorSeconds >= (this.#times.at(-1) ?? 0);
  }
}

function frameAt(set: MeasuredSet, index: number): FrameAtCursor | null {
  const drawn = drawnFrame(set, index);
  if (drawn === null) return null;
  return {
    drawn,
    elbowFlexionDeg: measuredAt(set.columns.elbowFlexionDeg, index),
    isMeasured: reasonAt(set.reasons, index) === null,
    isExchanged: set.exchanged[index] === 1,
  };
}
