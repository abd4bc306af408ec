import type { ExerciseSettings } from '../core/exercises/exercise.ts';
import type { Thresholds } from '../core/exercises/thresholds.ts';
import { storageSentence } from '../core/feedback/storage-problems.ts';
import type { FrameSource } from '../core/pose/frame-source.ts';
import type { FollowedPlan } from '../core/plan/plan.ts';
import type { HardestPlace } from '../core/plan/training-day.ts';
import type { EstimatorIdentity } from '../core/pose/pose-estimator.ts';
import type { PictureTile } from '../core/pose/picture-tile.ts';
import type { PoseFrame } from '../core/pose/pose-frame.ts';
import type { GivenCue, Pause } from '../core/session/cue-log.ts';
import { SessionRecorder } from '../core/session/recorder.ts';
import {
  RECORD_FORMAT,
  RECORD_VERSION,
  type SessionHeader,
  type SessionRecord,
  type SetFindings,
} from '../core/session/session-record.ts';
import type { StorageProblem } from '../core/stored.ts';
import { summariseSet, type SetSummary } from '../core/session/summary.ts';
import type { LiveParts } from './live-parts.ts';

/** A set that has just ended, with what is asked about it. */
export interface FinishedSet {
  readonly index: number;
  readonly findings: SetFindings;
  readonly summary: SetSummary;
  /** Effort felt, 0 to 10, one for each hold; null where it was not answered. */
  readonly effortAfterHolds: readonly (number | null)[];
  /** Pain after the set, 0 to 10; null where it was not answered. */
  readonly painAfter: number | null;
  /** Effort felt over the whole set, where it is asked so. */
  readonly effort: number | null;
  readonly hardest: HardestPlace | null;
}

/** What is known of a session when its first set begins. */
export interface SessionFacts {
  readonly exercise: ExerciseSettings;
  readonly thresholds: Thresholds;
  /** The exercise of a plan that is done; null without a plan. */
  readonly plan: FollowedPlan | null;
  readonly source: FrameSource;
  /** The part of a shared picture that is measured; null for the whole. */
  readonly tile: PictureTile | null;
  readonly estimator: EstimatorIdentity;
  readonly widthPx: number;
  readonly heightPx: number;
}

/** How often what waits is written for sources that stall, milliseconds. */
const TICK_MS = 500;

/** The recording of one session: its sets, what is asked about them, and whether the store keeps them. */
export class SessionKeeping {
  readonly #parts: LiveParts;
  #recorder: SessionRecorder | null = null;
  readonly #earlyCues: GivenCue[] = [];
  #sessionId: string | null = null;
  #setCount = $state(0);
  #lastSet = $state.raw<FinishedSet | null>(null);
  #storageProblem = $state<StorageProblem | null>(null);
  #painBefore = $state<number | null>(null);

  constructor(parts: LiveParts) {
    this.#parts = parts;
    setInterval(() => this.#recorder?.tick(), TICK_MS);
    const flush = (): void => void this.#recorder?.flush();
    // A call that comes in, a locked screen, a closed lid: what waits is written before the browser stops the page.
    document.addEventListener('visibilitychange', () => {
      if (document.visibilityState === 'hidden') flush();
    });
    // Nothing is begun when the page is frozen: what is written would stand still halfway, and keep every other tab waiting.
    window.addEventListener('pagehide', flush);
  }

  /** The session that is recorded; null before its first set. */
  get sessionId(): string | null {
    return this.#sessionId;
  }

  /** Sets begun in this session. */
  get setCount(): number {
    return this.#setCount;
  }

  /** The set that has just ended, until the next begins. */
  get lastSet(): FinishedSet | null {
    return this.#lastSet;
  }

  /** The sentence for what keeps the store from writing, or null. */
  get problem(): string | null {
    return this.#storageProblem === null ? null : storageSentence(this.#storageProblem);
  }

  /** Pain before the next set, 0 to 10; null while it was not said. */
  get painBefore(): number | null {
    return this.#painBefore;
  }

  sayPainBefore(pain: number | null): void {
    this.#painBefore = pain;
  }

  /** Leaves the session behind: the next set begins a new one. */
  forget(): void {
    this.forgetEarlyCues();
    this.#recorder = null;
    this.#sessionId = null;
    this.#setCount = 0;
    this.#lastSet = null;
    this.#storageProblem = null;
    this.#painBefore = null;
  }

  /** Begins a set, and with the first one the session. */
  beginSet(facts: SessionFacts): void {
    this.#recorder ??= this.#newRecorder(facts);
    const startedAt = this.#parts.moment();
    this.#recorder.beginSet({ startedAt, painBefore: this.#painBefore, tile: facts.tile });
    this.#setCount += 1;
    this.#lastSet = null;
    for (const cue of this.#earlyCues.splice(0)) this.#recorder.noteCue(cue);
  }

  /** Keeps a cue with the set that runs or has run last; one that counts in, with the set that is about to begin. */
  noteCue(cue: GivenCue): void {
    if (cue.cue === 'count-in' || cue.cue === 'go') this.#earlyCues.push(cue);
    else this.#recorder?.noteCue(cue);
  }

  /** The set that was counted in does not begin. */
  forgetEarlyCues(): void {
    this.#earlyCues.length = 0;
  }

  notePause(pause: Pause): void {
    this.#recorder?.notePause(pause);
  }

  addFrame(frame: PoseFrame): void {
    this.#recorder?.addFrame(frame);
  }

  /** Ends the open set and settles when it is judged: what is judged of its stored frames is what counts, not what was counted live. */
  async finishSet(): Promise<void> {
    const recorder = this.#open();
    const index = this.#setCount - 1;
    const findings = await recorder.finishSet();
    // Another session may have begun meanwhile.
    if (this.#recorder !== recorder) return;
    this.#lastSet = {
      index,
      findings,
      summary: summariseSet(findings),
      effortAfterHolds: findings.judgement.holds.map(() => null),
      painAfter: null,
      effort: null,
      hardest: null,
    };
  }

  /** Keeps the effort felt in a hold of the last set; null takes the answer back. */
  answerEffort(hold: number, effort: number | null): void {
    if (this.#lastSet === null) return;
    const effortAfterHolds = this.#lastSet.effortAfterHolds.with(hold, effort);
    this.#lastSet = { ...this.#lastSet, effortAfterHolds };
    this.#open().answerSet(this.#lastSet.index, { effortAfterHolds: [...effortAfterHolds] });
  }

  /** Keeps the effort felt over the whole of the last set; where it was one hold, it is that hold's as well. */
  answerSetEffort(effort: number | null): void {
    if (this.#lastSet === null) return;
    if (this.#lastSet.effortAfterHolds.length === 1) this.answerEffort(0, effort);
    this.#lastSet = { ...this.#lastSet, effort };
    this.#open().answerSet(this.#lastSet.index, { effort });
  }

  /** Keeps where in the movement the last set was hardest. */
  answerHardest(hardest: HardestPlace | null): void {
    if (this.#lastSet === null) return;
    this.#lastSet = { ...this.#lastSet, hardest };
    this.#open().answerSet(this.#lastSet.index, { hardest });
  }

  /** Keeps the pain after the last set; it is also the pain before the next one. */
  answerPain(painAfter: number | null): void {
    if (this.#lastSet === null) return;
    this.#lastSet = { ...this.#lastSet, painAfter };
    this.#painBefore = painAfter;
    this.#open().answerSet(this.#lastSet.index, { painAfter });
  }

  /** Writes what waits now; settles when it is written or cannot be. */
  async flush(): Promise<void> {
    await this.#recorder?.flush();
  }

  /** Ends the session. Its id when there is one and all of it is kept, else null. */
  async finish(): Promise<string | null> {
    if (this.#recorder === null) return null;
    await this.#recorder.finish();
    return this.#recorder.problem === null ? this.#sessionId : null;
  }

  /** What was recorded, complete whatever the store could keep; null when nothing was. */
  async record(): Promise<SessionRecord | null> {
    return this.#recorder?.record() ?? null;
  }

  #open(): SessionRecorder {
    if (this.#recorder === null) throw new Error('SessionKeeping: no set was begun.');
    return this.#recorder;
  }

  #newRecorder(facts: SessionFacts): SessionRecorder {
    const { exercise, thresholds, plan, source, estimator, widthPx, heightPx } = facts;
    const header: SessionHeader = {
      format: RECORD_FORMAT,
      schemaVersion: RECORD_VERSION,
      id: this.#parts.newId(),
      createdAt: this.#parts.moment(),
      software: { ...this.#parts.software },
      estimator: { ...estimator },
      source: {
        kind: source.kind,
        label: source.label,
        durationSeconds: source.durationSeconds,
        widthPx,
        heightPx,
      },
      settings: exercise,
      thresholds,
      plan,
    };
    this.#sessionId = header.id;
    return new SessionRecorder({
      store: this.#parts.store,
      judge: this.#parts.judge,
      header,
      nowSeconds: this.#parts.nowSeconds,
      onProblem: (problem) => {
        this.#storageProblem = problem;
      },
    });
  }
}
