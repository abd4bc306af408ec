import {
  approachSteps,
  beginApproach,
  passStep,
  stepApproach,
  stepBack,
  type Approach,
} from '../core/feedback/approach.ts';
import { approachWords, type ApproachWords } from '../core/feedback/approach-words.ts';
import { SILENT, stepSetupTalk, type SetupTalk } from '../core/feedback/setup-talk.ts';
import { holdBarHeightM } from '../core/loads/bar-height.ts';
import { thresholdsOf } from '../core/plan/planned-thresholds.ts';
import type { MeasuredPlannedExercise, PlanPerson } from '../core/plan/plan.ts';
import type { LiveSession } from './live-session.svelte.ts';

/** How often the approach looks at how things stand, milliseconds. */
const LOOK_MS = 200;

/** What the approach needs from outside. */
export interface ApproachParts {
  readonly live: LiveSession;
  readonly person: PlanPerson;
  /** A clock that only rises, seconds. */
  readonly nowSeconds: () => number;
  /** Says words aloud where the voice is on. */
  readonly say: (words: string) => void;
}

/** The way from the open camera to the first set of an exercise of a plan: one step at a time, told aloud. */
export class ApproachCourse {
  readonly #parts: ApproachParts;
  #planned: MeasuredPlannedExercise | null = null;
  #approach = $state.raw<Approach | null>(null);
  #isShown = false;
  #talk: SetupTalk = SILENT;
  #timer: ReturnType<typeof setInterval> | undefined;

  constructor(parts: ApproachParts) {
    this.#parts = parts;
  }

  /** Where it stands; null where no exercise is prepared. */
  get now(): Approach | null {
    return this.#approach;
  }

  /** True once the first set may begin. */
  get isReady(): boolean {
    return this.#approach?.step === 'ready';
  }

  /** Which step of how many, from 1. */
  get place(): { readonly step: number; readonly of: number } {
    if (this.#approach === null) return { step: 1, of: 1 };
    const steps = approachSteps(this.#approach.exercise);
    return { step: steps.indexOf(this.#approach.step) + 1, of: steps.length };
  }

  /** What to do now; null where no exercise is prepared. */
  get words(): ApproachWords | null {
    const { live, person } = this.#parts;
    if (this.#approach === null) return null;
    return approachWords({
      approach: this.#approach,
      settings: { side: person.treatedSide, statureCm: person.statureCm },
      advice: live.advice,
      isStalled: live.speed.isStalled,
      elbowFlexionDeg: live.readout.elbowFlexionDeg,
      target: live.targetRange,
      barHeightM: this.barHeightM,
    });
  }

  /** How high the bar lies above the floor, metres, by the plan or by the person's height; null without a bar. */
  get barHeightM(): number | null {
    const planned = this.#planned;
    if (planned?.exercise === 'body-curl') return planned.equipment?.barHeightM ?? null;
    if (planned?.exercise !== 'hold') return null;
    return holdBarHeightM(this.#parts.person, thresholdsOf(planned).targetAngleDeg);
  }

  /** Begins anew for an exercise. */
  begin(planned: MeasuredPlannedExercise): void {
    this.end();
    this.#planned = planned;
    this.#isShown = false;
    this.#talk = SILENT;
    this.#approach = beginApproach(planned.exercise, this.#parts.nowSeconds());
    this.#timer = setInterval(() => this.#look(), LOOK_MS);
  }

  /** No exercise is prepared any longer. */
  end(): void {
    clearInterval(this.#timer);
    this.#approach = null;
    this.#planned = null;
  }

  /** From the beginning once more, for the same exercise. */
  again(): void {
    if (this.#planned !== null) this.begin(this.#planned);
  }

  /** The demonstration has been shown once. */
  noteShown(): void {
    this.#isShown = true;
  }

  /** The person passes the step. */
  pass(): void {
    if (this.#approach === null) return;
    this.#isShown = true;
    this.#approach = passStep(this.#approach, this.#parts.nowSeconds());
  }

  /** Back to the step before; the demonstration begins anew. */
  back(): void {
    if (this.#approach === null) return;
    this.#approach = stepBack(this.#approach, this.#parts.nowSeconds());
    if (this.#approach.step === 'what-to-do') this.#isShown = false;
  }

  #look(): void {
    const { live, nowSeconds, say } = this.#parts;
    // Nothing is told before the camera is on, nor during a set.
    if (this.#approach === null || live.stage !== 'watching') return;
    const timeSeconds = nowSeconds();
    this.#approach = stepApproach(
      this.#approach,
      {
        isShown: this.#isShown,
        advice: live.advice,
        isUnsettled: live.speed.isStalled || live.speed.isChanging,
        elbowFlexionDeg: live.readout.elbowFlexionDeg,
        target: live.targetRange,
      },
      timeSeconds,
    );
    // What is shown first is told by the demonstration itself; once ready the session's own cues speak.
    const { step } = this.#approach;
    if (step === 'what-to-do' || live.keeping.setCount > 0) return;
    const { words } = this;
    // By its few letters: the sentence may hold a figure that changes.
    const told = stepSetupTalk(this.#talk, words?.short ?? null, words?.isCorrection ?? false, timeSeconds);
    this.#talk = told.talk;
    if (told.isSaid && words !== null) say(words.sentence);
  }
}
