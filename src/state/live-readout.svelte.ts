import type { ExerciseSettings } from '../core/exercises/exercise.ts';
import type { Announcer, Tone } from '../core/feedback/announcer.ts';
import {
  angleWords,
  countWords,
  NO_COUNTS,
  stateWords,
  type CountWords,
  type FigureWords,
  type LiveCounts,
  type Role,
  type StateWords,
} from '../core/feedback/live-words.ts';
import type { KinematicFrame } from '../core/kinematics/kinematic-frame.ts';
import { LiveMeasurer } from '../core/kinematics/live-measurer.ts';
import {
  isMeasured,
  notMeasured,
  type Measured,
  type NotMeasuredReason,
} from '../core/kinematics/measured.ts';
import { measuredOverlay, type FigureOverlay } from '../core/pose/figure-overlay.ts';
import type { PoseFrame } from '../core/pose/pose-frame.ts';
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

/** A cue as it is shown. */
export interface ShownCue {
  readonly words: string;
  readonly role: Role;
}

/** What was measured of a source so far. */
interface Course {
  readonly exercise: ExerciseSettings;
  readonly measurer: LiveMeasurer;
  points: TraceValue[];
  publishedSeconds: number;
}

/** What is shown while pictures come: measured frame by frame, published a few times a second. */
export class LiveReadout {
  readonly #announcer: Announcer;
  readonly #settings: Settings;
  #course: Course | null = null;
  #flexion = $state.raw<Measured>(notMeasured('nobody'));
  #reason = $state<NotMeasuredReason | null>(null);
  #state = $state.raw<StateWords>({ role: 'quiet', word: 'Ready', detail: '' });
  #counts = $state.raw<LiveCounts>(NO_COUNTS);
  #cue = $state.raw<ShownCue | null>(null);
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
    return countWords(this.#course?.exercise.exercise ?? 'hold', this.#counts);
  }

  /** The one cue that is given now, or null. */
  get cue(): ShownCue | null {
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

  /** A new source: whatever was known of another one is forgotten. */
  prepare(exercise: ExerciseSettings): void {
    const measurer = new LiveMeasurer({ side: exercise.side, statureCm: exercise.statureCm });
    this.#course = { exercise, measurer, points: [], publishedSeconds: -Infinity };
    this.#counts = NO_COUNTS;
    this.#trace = [];
  }

  /** Counts and travel start anew with a set. */
  beginSet(): void {
    this.#course?.measurer.reset();
    this.#counts = NO_COUNTS;
  }

  /** Sounds a tone, unless tones are switched off. */
  sound(tone: Tone): void {
    if (this.#settings.now.tones) this.#announcer.tone(tone);
  }

  /** Measures a picture and says what to draw on it. */
  take(frame: PoseFrame): FigureOverlay {
    const course = this.#course;
    if (course === null) throw new Error('LiveReadout: prepare it before the first picture.');
    const { frame: measured, gated } = course.measurer.step(frame);
    course.points.push(pointOf(measured));
    if (frame.timeSeconds - course.publishedSeconds >= PUBLISH_SECONDS) this.#publish(course, measured);
    return measuredOverlay(gated, course.exercise.side, frame.widthPx);
  }

  #publish(course: Course, { timeSeconds, elbowFlexionDeg, reason }: KinematicFrame): void {
    course.publishedSeconds = timeSeconds;
    course.points = course.points.filter((point) => point.timeSeconds >= timeSeconds - TRACE_SECONDS);
    this.#trace = [...course.points];
    this.#flexion = elbowFlexionDeg;
    this.#reason = reason;
    this.#state = stateWords({
      exercise: course.exercise.exercise,
      phase: 'rest',
      elbowFlexionDeg,
      reason,
      target: null,
    });
  }
}

function pointOf({ timeSeconds, elbowFlexionDeg }: KinematicFrame): TraceValue {
  return isMeasured(elbowFlexionDeg)
    ? { timeSeconds, ...elbowFlexionDeg }
    : { timeSeconds, value: null, low: null, high: null };
}
