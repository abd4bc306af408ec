import type { Phase } from '../core/exercises/judgement.ts';
import type { KinematicSeries } from '../core/kinematics/kinematic-frame.ts';
import { FRESH_GATE, stepGate } from '../core/pose/gate.ts';
import type { PoseFrame } from '../core/pose/pose-frame.ts';
import type { Side } from '../core/pose/landmark.ts';
import { recomputeSet, type JudgedSet } from '../core/session/build-session.ts';
import type { RecordedSet, SessionRecord } from '../core/session/session-record.ts';
import type { SessionStore, StorageProblem } from '../core/session/session-store.ts';
import { nearestIndex } from '../core/signal/nearest-index.ts';

/** What there is before a record is loaded. */
const NOTHING: Pick<JudgedSet, 'frames' | 'series' | 'phases'> = {
  frames: [],
  series: {
    frames: [],
    view: {
      cameraYawDeg: null,
      method: 'image-plane',
      upperArmCm: null,
      scaleSource: null,
      lowPassHz: null,
      rateHz: null,
    },
  },
  phases: [],
};

/**
 * One record under review: loads it, measures the selected set again from its stored landmarks, and holds the moment
 * that trace, replay and tables share. Times are seconds of the record's source clock.
 */
export class Review {
  readonly #store: SessionStore;
  #record = $state.raw<SessionRecord | null>(null);
  #problem = $state.raw<StorageProblem | null>(null);
  #asked = '';
  #selectedSet = $state(0);
  #cursorSeconds = $state(0);
  #playing = $state(false);
  speed = $state(1);

  readonly #measured = $derived.by(() =>
    this.#record === null || this.set === null ? NOTHING : recomputeSet(this.#record, this.#selectedSet),
  );
  readonly #exchanged = $derived.by(() =>
    this.#record === null ? [] : exchangedFrames(this.#measured.frames, this.#record.settings.side),
  );
  readonly #times = $derived(this.#measured.frames.map((frame) => frame.timeSeconds));
  readonly #cursorIndex = $derived(nearestIndex(this.#times, this.#cursorSeconds));

  constructor(store: SessionStore) {
    this.#store = store;
  }

  /** The record, or null while it loads and when it could not be had. */
  get record(): SessionRecord | null {
    return this.#record;
  }

  /** Why the record could not be had. */
  get problem(): StorageProblem | null {
    return this.#problem;
  }

  /** Place of the selected set, from 0. */
  get selectedSet(): number {
    return this.#selectedSet;
  }

  get set(): RecordedSet | null {
    return this.#record?.sets[this.#selectedSet] ?? null;
  }

  /** The stored frames of the selected set. */
  get frames(): readonly PoseFrame[] {
    return this.#measured.frames;
  }

  /** What was measured in them, one entry a frame. */
  get series(): KinematicSeries {
    return this.#measured.series;
  }

  /** The phase of each frame. */
  get phases(): readonly Phase[] {
    return this.#measured.phases;
  }

  /** For each frame whether its left and right were found exchanged and put right. */
  get exchanged(): readonly boolean[] {
    return this.#exchanged;
  }

  get cursorSeconds(): number {
    return this.#cursorSeconds;
  }

  /** Place of the frame nearest to the cursor. */
  get cursorIndex(): number {
    return this.#cursorIndex;
  }

  get playing(): boolean {
    return this.#playing;
  }

  /** Every set of the record, measured again from its stored landmarks. */
  measureAllSets(): JudgedSet[] {
    const record = this.#record;
    return record === null ? [] : record.sets.map((_, index) => recomputeSet(record, index));
  }

  /** Loads a record; one that is asked for later wins over one that arrives later. */
  async open(sessionId: string): Promise<void> {
    this.#asked = sessionId;
    this.#record = null;
    this.#problem = null;
    this.#playing = false;
    const loaded = await this.#store.loadSession(sessionId);
    if (this.#asked !== sessionId) return;
    if (!loaded.ok) {
      this.#problem = loaded.problem;
      return;
    }
    this.#record = loaded.value;
    this.selectSet(0);
  }

  /** Turns to another set and puts the cursor at its first frame. */
  selectSet(index: number): void {
    this.#playing = false;
    this.#selectedSet = index;
    this.#cursorSeconds = this.#times[0] ?? 0;
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

function exchangedFrames(frames: readonly PoseFrame[], side: Side): boolean[] {
  let state = FRESH_GATE;
  return frames.map((frame) => {
    const next = stepGate(state, frame, side);
    state = next.state;
    return next.gated.exchanged;
  });
}
