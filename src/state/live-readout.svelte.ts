import type * as Judging from '../core/exercises/live-judge.ts';
import type { LiveEvent, LiveJudge, LiveJudgeSettings } from '../core/exercises/live-judge.ts';
import type { Announcer, Tone } from '../core/feedback/announcer.ts';
import {
  BEND_MORE,
  cueForFlags,
  EASE_OFF,
  NO_CUES,
  STRAIGHTEN,
  stepCues,
  type Cue,
  type CueState,
} from '../core/feedback/cue-policy.ts';
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

/** How near to the target range the elbow must be for a cue to lead it there, degrees: a hanging arm is at rest. */
const LEADING_DEG = 30;
/** The tones of what happens in a set. */
const TONES: Partial<Record<LiveEvent['kind'], Tone>> = {
  'hold-begins': 'hold-begins',
  'hold-ends': 'hold-ends',
  repetition: 'repetition',
};

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
  cues: CueState;
  points: TraceValue[];
  publishedSeconds: number;
}

/** What is shown while pictures come: measured frame by frame, published a few times a second. */
export class LiveReadout {
  readonly #announcer: Announcer;
  readonly #settings: Settings;
  #tools: LiveTools | null = null;
  #course: Course | null = null;
  #flexion = $state.raw<Measured>(notMeasured('nobody'));
  #reason = $state<NotMeasuredReason | null>(null);
  #state = $state.raw<StateWords>({ role: 'quiet', word: 'Ready', detail: '' });
  #counts = $state.raw<LiveCounts>(NO_COUNTS);
  #cue = $state.raw<Cue | null>(null);
  #trace = $state.raw<readonly TraceValue[]>([]);

  constructor(announcer: Announcer, settings: Settings) {
    this.#announcer = announcer;
    this.#settings = settings;
  }

  /** The state in a word. */
  get state(): StateWords {
    return this.#state;
  }

  /** Elbow flexion in big figures. */
  get angle(): FigureWords {
    return angleWords(this.#flexion);
  }

  /** The clock of the hold, or the count of repetitions. */
  get count(): CountWords {
    return countWords(this.#course?.task.exercise.exercise ?? 'hold', this.#counts);
  }

  /** The one cue that is given now, or null. */
  get cue(): Cue | null {
    return this.#cue;
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
      cues: NO_CUES,
      points: [],
      publishedSeconds: -Infinity,
    };
    this.#cue = null;
    this.#counts = NO_COUNTS;
    this.#trace = [];
  }

  /** Counts and travel start anew with a set. */
  beginSet(): void {
    if (this.#course === null) return;
    this.#course.measurer.reset();
    this.#course.judge = this.#course.tools.initialLiveJudge(judgedBy(this.#course));
    this.#course.cues = NO_CUES;
    this.#counts = NO_COUNTS;
  }

  /** Nothing is judged and nothing is said between sets. */
  endSet(): void {
    if (this.#course !== null) this.#course.judge = null;
    this.#cue = null;
  }

  /** Sounds a tone, unless tones are switched off. */
  sound(tone: Tone): void {
    if (this.#settings.now.tones) this.#announcer.tone(tone);
  }

  /** Measures a picture, whose landmarks were given by this, and says what to draw on it. */
  take(frame: PoseFrame, landmarks: LandmarkSource): FigureOverlay {
    const course = this.#course;
    if (course === null) throw new Error('LiveReadout: prepare it before the first picture.');
    const { frame: measured, gated } = course.measurer.step(frame, landmarks);
    course.points.push(pointOf(measured));
    if (course.judge !== null) this.#judge(course, course.judge, measured);
    if (frame.timeSeconds - course.publishedSeconds >= PUBLISH_SECONDS) this.#publish(course, measured);
    return measuredOverlay(gated, course.task.exercise.side, frame.widthPx);
  }

  #judge(course: Course, before: LiveJudge, frame: KinematicFrame): void {
    const { judge, events } = course.tools.stepLiveJudge(before, frame, judgedBy(course));
    course.judge = judge;
    for (const { kind } of events) {
      const tone = TONES[kind];
      if (tone !== undefined) this.sound(tone);
    }
    const { state, isNew } = stepCues(course.cues, wishOf(course, judge, events), frame.timeSeconds);
    course.cues = state;
    const cue = state.shown?.cue ?? null;
    if (cue !== this.#cue) this.#cue = cue;
    if (isNew && cue !== null && this.#settings.now.voice) this.#announcer.say(cue.words);
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

/** The cue that what just happened, or how the elbow stands, asks for. */
function wishOf({ task }: Course, { phase, latest }: LiveJudge, events: readonly LiveEvent[]): Cue | null {
  if (events.some(({ kind }) => kind === 'hand-rises')) return EASE_OFF;
  for (const event of events) if (event.kind === 'repetition') return cueForFlags(event.flags);
  const target = targetRange(task);
  if (target === null || phase === 'in-range' || latest === null) return null;
  const { flexionDeg, speedDegPerS } = latest;
  if (Math.abs(speedDegPerS ?? 0) > task.thresholds.holdSpeedDegPerS) return null;
  if (flexionDeg < target.low && flexionDeg > target.low - LEADING_DEG) return BEND_MORE;
  return flexionDeg > target.high && flexionDeg < target.high + LEADING_DEG ? STRAIGHTEN : null;
}

function pointOf({ timeSeconds, elbowFlexionDeg }: KinematicFrame): TraceValue {
  return isMeasured(elbowFlexionDeg)
    ? { timeSeconds, ...elbowFlexionDeg }
    : { timeSeconds, value: null, low: null, high: null };
}
