import type * as Judging from '../core/exercises/live-judge.ts';
import { isAtWork } from '../core/exercises/leaving.ts';
import type { LiveEvent, LiveJudge, LiveJudgeSettings } from '../core/exercises/live-judge.ts';
import type { Announcer, Tone } from '../core/feedback/announcer.ts';
import {
  BEND_MORE,
  cueForFlags,
  EASE_OFF,
  LET_GO,
  NO_CUES,
  SET_DONE,
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
import type { AskedSet } from '../core/plan/asked-done.ts';
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
  /** What the plan asks of the set; null where nothing is asked. */
  asked: AskedSet | null;
  isAskedTold: boolean;
  /** When the arm was last at work in the set; null before it was. */
  workedSeconds: number | null;
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
  #restingSeconds = 0;
  #trace = $state.raw<readonly TraceValue[]>([]);

  constructor(announcer: Announcer, settings: Settings) {
    this.#announcer = announcer;
    this.#settings = settings;
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
      asked: null,
      isAskedTold: false,
      workedSeconds: null,
      publishedSeconds: -Infinity,
    };
    this.#cue = null;
    this.#counts = NO_COUNTS;
    this.#trace = [];
  }

  /** Counts and travel start anew with a set. asked: what a plan wants of it. */
  beginSet(asked: AskedSet | null): void {
    if (this.#course === null) return;
    Object.assign(this.#course, { asked, isAskedTold: false, workedSeconds: null });
    this.#restingSeconds = 0;
    this.#course.measurer.reset();
    this.#course.judge = this.#course.tools.initialLiveJudge(judgedBy(this.#course));
    this.#course.cues = NO_CUES;
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
    if (isAtWork(judge)) course.workedSeconds = frame.timeSeconds;
    this.#restingSeconds = frame.timeSeconds - (course.workedSeconds ?? frame.timeSeconds);
    const wish = this.#askedDone(course, judge) ?? allowed(course, wishOf(course, judge, events));
    const { state, isNew } = stepCues(course.cues, wish, frame.timeSeconds);
    course.cues = state;
    const cue = state.shown?.cue ?? null;
    if (cue !== this.#cue) this.#cue = cue;
    if (isNew && cue !== null && this.#settings.now.voice) this.#announcer.say(cue.words);
  }

  /** Tells once that the set has all that was asked; what is a matter of safety goes first. */
  #askedDone(course: Course, judge: LiveJudge): Cue | null {
    const { asked, isAskedTold } = course;
    if (asked === null || isAskedTold || course.cues.shown?.cue.priority === 'safety') return null;
    const isDone = (asked.unit === 'seconds' ? judge.inRangeSeconds : judge.repetitions) >= asked.amount;
    if (!isDone) return null;
    course.isAskedTold = true;
    this.sound('asked-done');
    return asked.unit === 'seconds' ? LET_GO : SET_DONE;
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

/** Once all that was asked is done nobody is told to do more: only what is a matter of safety is still said. */
function allowed({ isAskedTold }: Course, cue: Cue | null): Cue | null {
  return isAskedTold && cue?.priority !== 'safety' ? null : cue;
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
