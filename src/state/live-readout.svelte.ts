import type * as Judging from '../core/exercises/live-judge.ts';
import { isAtWork } from '../core/exercises/leaving.ts';
import type { LiveJudge, LiveJudgeSettings } from '../core/exercises/live-judge.ts';
import type { Announcer } from '../core/feedback/announcer.ts';
import type { Cue } from '../core/feedback/cue-table.ts';
import {
  angleWords,
  countWords,
  NO_COUNTS,
  stateWords,
  type CountWords,
  type FigureWords,
  type LiveCounts,
  type StateWords,
} from '../core/feedback/live-words.ts';
import type { KinematicFrame } from '../core/kinematics/kinematic-frame.ts';
import type { LandmarkSource } from '../core/kinematics/landmark-errors.ts';
import type * as Measuring from '../core/kinematics/live-measurer.ts';
import {
  isMeasured,
  notMeasured,
  type Measured,
  type NotMeasuredReason,
} from '../core/kinematics/measured.ts';
import { measuredOverlay, type FigureOverlay } from '../core/pose/figure-overlay.ts';
import type { PoseFrame } from '../core/pose/pose-frame.ts';
import type { AskedSet } from '../core/plan/asked-done.ts';
import type { CueCause, CueName, GivenCue } from '../core/session/cue-log.ts';
import type { CueDesk } from './cue-desk.svelte.ts';
import { targetRange, type LiveTask } from './live-task.ts';
import type { Settings } from './settings.svelte.ts';

/** Figures change at most this often: quicker than this they cannot be read. */
const PUBLISH_SECONDS = 0.2;
/** What the curve keeps, seconds. */
const TRACE_SECONDS = 20;

/** One point of the curve, degrees; nulls where it was not measured. */
export interface TraceValue {
  readonly timeSeconds: number;
  readonly value: number | null;
  readonly low: number | null;
  readonly high: number | null;
}

/** What is loaded with the first source. */
type LiveTools = Pick<typeof Measuring, 'LiveMeasurer'> &
  Pick<typeof Judging, 'initialLiveJudge' | 'stepLiveJudge'>;

/** What was measured of a source so far. */
interface Course {
  readonly task: LiveTask;
  readonly measurer: Measuring.LiveMeasurer;
  readonly tools: LiveTools;
  /** Null between sets. */
  judge: LiveJudge | null;
  points: TraceValue[];
  /** What the plan asks of the set; null where nothing is asked. */
  asked: AskedSet | null;
  /** When the arm was last at work in the set; null before it was. */
  workedSeconds: number | null;
  isPaused: boolean;
  publishedSeconds: number;
}

/** What is shown while pictures come: measured frame by frame, published a few times a second. */
export class LiveReadout {
  readonly #announcer: Announcer;
  readonly #settings: Settings;
  readonly #note: (cue: GivenCue) => void;
  #tools: LiveTools | null = null;
  #desk = $state.raw<CueDesk | null>(null);
  #course: Course | null = null;
  #latest: KinematicFrame | null = null;
  #flexion = $state.raw<Measured>(notMeasured('nobody'));
  #reason = $state<NotMeasuredReason | null>(null);
  #state = $state.raw<StateWords>({ role: 'quiet', word: 'Ready', detail: '' });
  #counts = $state.raw<LiveCounts>(NO_COUNTS);
  #restingSeconds = 0;
  #trace = $state.raw<readonly TraceValue[]>([]);

  /** note: keeps a cue that was given. */
  constructor(announcer: Announcer, settings: Settings, note: (cue: GivenCue) => void) {
    this.#announcer = announcer;
    this.#settings = settings;
    this.#note = note;
  }

  /** The state in a word. */
  get state(): StateWords {
    return this.#state;
  }

  /** Elbow flexion of the latest picture that was shown, degrees. */
  get elbowFlexionDeg(): Measured {
    return this.#flexion;
  }

  /** Elbow flexion in big figures. */
  get angle(): FigureWords {
    return angleWords(this.#flexion);
  }

  /** The clock of the hold, or the count of repetitions. */
  get count(): CountWords {
    return countWords(this.#course?.task.exercise.exercise ?? 'hold', this.#counts);
  }

  /** What was judged of the set so far: its phase and its counts; null between sets. */
  get judged(): (Pick<LiveJudge, 'phase'> & LiveCounts) | null {
    return this.#course?.judge ?? null;
  }

  /** The one cue that is given now, or null. */
  get cue(): Cue | null {
    return this.#desk?.shown ?? null;
  }

  /** Nothing is judged while a set is paused; the time of the pause is none of its time. */
  pause(isPaused: boolean): void {
    if (this.#course === null) return;
    this.#course.isPaused = isPaused;
    const { workedSeconds } = this.#course;
    if (!isPaused && workedSeconds !== null)
      this.#course.workedSeconds = this.#latest?.timeSeconds ?? workedSeconds;
  }

  /** Why the latest picture was not measured, or null. */
  get reason(): NotMeasuredReason | null {
    return this.#reason;
  }

  /** The last twenty seconds of elbow flexion. */
  get trace(): readonly TraceValue[] {
    return this.#trace;
  }

  /** Loads what measures and judges live, which the first screen does without. Rejects when it cannot be had. */
  async load(): Promise<void> {
    this.#tools ??= {
      ...(await import('../core/kinematics/live-measurer.ts')),
      ...(await import('../core/exercises/live-judge.ts')),
    };
    if (this.#desk !== null) return;
    const { CueDesk } = await import('./cue-desk.svelte.ts');
    const [announcer, settings, note] = [this.#announcer, this.#settings, this.#note];
    this.#desk = new CueDesk({ announcer, settings, note });
  }

  /** A new source: whatever was known of another one is forgotten. Throws before load() has settled. */
  prepare(task: LiveTask): void {
    if (this.#tools === null) throw new Error('LiveReadout: load it before the first source.');
    const { side, statureCm } = task.exercise;
    const measurer = new this.#tools.LiveMeasurer({ side, statureCm });
    this.#course = {
      task,
      measurer,
      tools: this.#tools,
      judge: null,
      points: [],
      asked: null,
      workedSeconds: null,
      isPaused: false,
      publishedSeconds: -Infinity,
    };
    this.#latest = null;
    this.#desk?.forget();
    this.#counts = NO_COUNTS;
    this.#trace = [];
  }

  /** Counts and travel start anew with a set. asked: what a plan wants of it. */
  beginSet(asked: AskedSet | null): void {
    if (this.#course === null) return;
    Object.assign(this.#course, { asked, workedSeconds: null, isPaused: false });
    this.#restingSeconds = 0;
    this.#course.measurer.reset();
    this.#course.judge = this.#course.tools.initialLiveJudge(judgedBy(this.#course));
    this.#desk?.begin();
    this.#counts = NO_COUNTS;
  }

  /** What was counted in the set before is shown no longer. */
  forgetCounts(): void {
    this.#counts = NO_COUNTS;
  }

  /** Seconds since the arm was last at work in this set, by the pictures' own time; 0 before it was. */
  get restingSeconds(): number {
    return this.#restingSeconds;
  }

  /** Nothing is judged and nothing is said between sets. */
  endSet(): void {
    if (this.#course !== null) this.#course.judge = null;
  }

  /** Whether the arm was at work in this set. */
  get hasWorked(): boolean {
    return (this.#course?.workedSeconds ?? null) !== null;
  }

  /** The latest picture as it was measured; null before the first. */
  get latest(): KinematicFrame | null {
    return this.#latest;
  }

  /** Gives a cue that no picture asks for, of so many seconds where its words name them. Nothing before load() has settled. */
  announce(cue: CueName, what: CueCause['what'], seconds: number | null = null): void {
    const measured = seconds === null ? null : ({ value: seconds, unit: 's' } as const);
    this.#desk?.announce(cue, { what, repetition: null, measured }, this.#latest?.timeSeconds ?? 0);
  }

  /** Measures a picture, whose landmarks were given by this, and says what to draw on it. */
  take(frame: PoseFrame, landmarks: LandmarkSource): FigureOverlay {
    const course = this.#course;
    if (course === null) throw new Error('LiveReadout: prepare it before the first picture.');
    const { frame: measured, gated } = course.measurer.step(frame, landmarks);
    this.#latest = measured;
    course.points.push(pointOf(measured));
    if (course.judge !== null && !course.isPaused) this.#judge(course, course.judge, measured);
    else this.#desk?.expire(frame.timeSeconds);
    if (frame.timeSeconds - course.publishedSeconds >= PUBLISH_SECONDS) this.#publish(course, measured);
    return measuredOverlay(gated, course.task.exercise.side, frame.widthPx);
  }

  #judge(course: Course, before: LiveJudge, frame: KinematicFrame): void {
    const { judge, events } = course.tools.stepLiveJudge(before, frame, judgedBy(course));
    course.judge = judge;
    // The end of a hold has no words: what is said next is what to do about it.
    const isOver = events.some(({ kind }) => kind === 'hold-ends');
    if (isOver && this.#settings.now.tones && !this.#announcer.isSpeaking) this.#announcer.tone('hold-ends');
    if (isAtWork(judge)) course.workedSeconds = frame.timeSeconds;
    this.#restingSeconds = frame.timeSeconds - (course.workedSeconds ?? frame.timeSeconds);
    const { exercise, thresholds } = course.task;
    const task = { exercise: exercise.exercise, thresholds, asked: course.asked };
    this.#desk?.step({ judge, events }, task, frame.timeSeconds);
  }

  #publish(course: Course, { timeSeconds, elbowFlexionDeg, reason }: KinematicFrame): void {
    course.publishedSeconds = timeSeconds;
    course.points = course.points.filter((point) => point.timeSeconds >= timeSeconds - TRACE_SECONDS);
    this.#trace = [...course.points];
    this.#flexion = elbowFlexionDeg;
    this.#reason = reason;
    if (course.judge !== null) this.#counts = course.judge;
    this.#state = stateWords({
      exercise: course.task.exercise.exercise,
      phase: course.judge?.phase ?? 'rest',
      elbowFlexionDeg,
      reason,
      target: targetRange(course.task),
    });
  }
}

function judgedBy({ task: { exercise, thresholds } }: Course): LiveJudgeSettings {
  return { settings: exercise, thresholds };
}

function pointOf({ timeSeconds, elbowFlexionDeg }: KinematicFrame): TraceValue {
  return isMeasured(elbowFlexionDeg)
    ? { timeSeconds, ...elbowFlexionDeg }
    : { timeSeconds, value: null, low: null, high: null };
}
