import type { Announcer } from '../core/feedback/announcer.ts';
import { storageSentence } from '../core/feedback/storage-problems.ts';
import { askedSets, type AskedSet } from '../core/plan/asked-done.ts';
import {
  courseOf,
  endDay,
  nextOf,
  OPEN_SET,
  withImpulse,
  withoutLastSet,
  withSet,
  wentOn,
  type ExerciseCourse,
} from '../core/plan/day-course.ts';
import { beginDay, carriedOn, dayOfToday, withSafetyAnswers } from '../core/plan/day-turns.ts';
import { maySessionStart, type SessionClearance } from '../core/plan/may-start.ts';
import { isMeasuredExercise, type Plan } from '../core/plan/plan.ts';
import type { PlanStore } from '../core/plan/plan-store.ts';
import type { SessionQuestion } from '../core/plan/safety-questions.ts';
import type { DoneSet, MeasuredDone, PainPlace, TrainingDay } from '../core/plan/training-day.ts';
import { measuredDoneOf } from '../core/session/day-figures.ts';
import type { RecordOpener } from '../core/session/record-opener.ts';
import { setImpulseNms } from '../core/session/set-impulse.ts';
import type { SessionStore } from '../core/session/session-store.ts';
import { ApproachCourse } from './approach.svelte.ts';
import type { LiveSession } from './live-session.svelte.ts';
import { plannedTask } from './planned-task.ts';
import { RestClock } from './rest-clock.svelte.ts';
import { TrainingPast } from './training-past.svelte.ts';
import { withUnnotedSets } from './unnoted-sets.ts';
import { SetQuestions } from './set-questions.svelte.ts';
import type { FinishedSet } from './session-keeping.svelte.ts';
import type { Settings } from './settings.svelte.ts';

/** Before the questions of the day are answered. */
const UNASKED = { safetyYes: [], safetyAnsweredAt: null };

/** What a training day needs from outside; handed in by main.ts. */
export interface TrainingParts {
  readonly plans: PlanStore;
  readonly sessions: SessionStore;
  readonly records: RecordOpener;
  readonly live: LiveSession;
  readonly settings: Settings;
  readonly announcer: Announcer;
  /** A clock that only rises, seconds. */
  readonly nowSeconds: () => number;
  /** The moment of the wall clock with its offset. */
  readonly moment: () => string;
  readonly newId: () => string;
}

/** One training day by a plan: what is asked, done and answered. Each step is kept at once. */
export class TrainingCourse {
  readonly plan: Plan;
  readonly rest: RestClock;
  readonly questions: SetQuestions;
  readonly past: TrainingPast;
  readonly approach: ApproachCourse;
  readonly #parts: TrainingParts;
  #day = $state.raw<TrainingDay | null>(null);
  #currentKey = $state<string | null>(null);
  #isByHand = $state(false);
  #problem = $state<string | null>(null);

  constructor(parts: TrainingParts, plan: Plan) {
    this.#parts = parts;
    this.plan = plan;
    this.past = new TrainingPast(parts.plans, parts.sessions);
    this.rest = new RestClock(parts.nowSeconds, () => this.#restIsOver());
    this.approach = new ApproachCourse({
      live: parts.live,
      person: plan.person,
      nowSeconds: parts.nowSeconds,
      say: (words) => this.say(words),
    });
    this.questions = new SetQuestions({
      plan,
      day: () => this.#day,
      keep: (day) => this.#keep(day),
      keeping: () => (this.#isByHand ? null : parts.live.keeping),
    });
  }

  /** Today; null before the questions of the day are answered. */
  get day(): TrainingDay | null {
    return this.#day;
  }

  /** The exercises of the stage, each as it stands today. */
  readonly course: readonly ExerciseCourse[] = $derived.by(() =>
    courseOf(this.plan, this.#day, this.past.before.days),
  );

  /** Whether a session may start, by the questions of today and of earlier days. */
  readonly clearance: SessionClearance = $derived.by(() =>
    maySessionStart(this.#day ?? UNASKED, this.past.before),
  );

  /** The exercise that comes next; null when there is none. */
  get next(): ExerciseCourse | null {
    return nextOf(this.course);
  }

  /** The exercise that is being prepared or done; null on the list of the day. */
  get current(): ExerciseCourse | null {
    return this.course.find(({ planned }) => planned.key === this.#currentKey) ?? null;
  }

  /** True while the current exercise is answered by hand, without measuring. */
  get isByHand(): boolean {
    return this.#isByHand;
  }

  /** What the next set of the current exercise asks for; null when all are done or it was ended. */
  get nextSet(): AskedSet | null {
    const { current } = this;
    return current?.state === 'open' ? (askedSets(current)[current.done.length] ?? null) : null;
  }

  /**
   * Whether the next set may begin without a key: a session may, nobody rests, the set-up was checked. A rating that was not
   * given by the end of the rest stays open, because hands may be busy; what is offered because of pain must be answered.
   */
  get mayBegin(): boolean {
    const { leftSeconds } = this.rest;
    const isResting = leftSeconds !== null && leftSeconds > 0;
    if (!this.clearance.mayStart || !this.approach.isReady || isResting) return false;
    return this.nextSet !== null && this.questions.now !== 'offers';
  }

  /** The sentence for what keeps the day from being kept, or null. */
  get problem(): string | null {
    return this.#problem;
  }

  /** Looks up what was done of the plan; what broke off is taken up again. */
  async look(): Promise<void> {
    const { moment } = this.#parts;
    const now = moment();
    const past = await this.past.look(this.plan, now);
    if (!past.ok) {
      this.#problem = storageSentence(past.problem);
      return;
    }
    this.#day = await this.#takenUp(dayOfToday(past.value.days, now, past.value));
  }

  /** The moment of the wall clock. */
  now(): string {
    return this.#parts.moment();
  }

  /** Says words aloud where the voice is on. */
  say(words: string): void {
    if (this.#parts.settings.now.voice) this.#parts.announcer.say(words, 'after');
  }

  /** Answers the questions before the session. Any yes ends the day before it began. */
  async answerSafety(yes: readonly SessionQuestion[]): Promise<void> {
    const { moment, newId } = this.#parts;
    const now = moment();
    await this.#keep(withSafetyAnswers(this.#day ?? beginDay(this.plan, newId(), now), yes, now));
  }

  /** No to all questions before the session, and the pain before it, null: left out. The next exercise comes at once. */
  async beginWith(painBefore: number | null): Promise<void> {
    await this.answerSafety([]);
    await this.#change({ painBefore });
    const { next } = this;
    if (next !== null) await this.choose(next.planned.key, !isMeasuredExercise(next.planned));
  }

  answerPainAtEnd(painAtEnd: number | null): Promise<void> {
    return this.#change({ painAtEnd });
  }

  answerPlaces(painPlaces: readonly PainPlace[]): Promise<void> {
    return this.#change({ painPlaces: [...painPlaces] });
  }

  /** Keeps what was said of the morning after an earlier day; pain null: not remembered. */
  async answerMorning(pain: number | null, painPlaces: readonly PainPlace[]): Promise<void> {
    const problem = await this.past.answerMorning(pain, painPlaces, this.#parts.moment());
    this.#problem = problem === null ? null : storageSentence(problem);
  }

  /** Goes to an exercise: measured, or answered by hand. One that was ended for pain goes on as the person's own choice. */
  async choose(exerciseKey: string, isByHand: boolean): Promise<void> {
    const chosen = this.course.find(({ planned }) => planned.key === exerciseKey);
    if (this.#day === null || !this.clearance.mayStart) return;
    if (chosen === undefined || !chosen.clearance.mayStart) return;
    await this.leave();
    if (chosen.state === 'ended') await this.#keep(wentOn(this.#day, exerciseKey));
    this.#currentKey = exerciseKey;
    this.#isByHand = isByHand;
    this.questions.forget();
    if (!isByHand && isMeasuredExercise(chosen.planned)) this.approach.begin(chosen.planned);
    const task = plannedTask(this.plan, chosen.planned, this.#day.id);
    this.#parts.live.askFor(
      task === null || isByHand
        ? null
        : {
            task,
            painBefore: this.#day.painBefore,
            nextSet: () => this.nextSet,
            mayBegin: () => this.mayBegin,
            onOpen: () => this.approach.again(),
            onBegin: () => this.#setBegins(),
            onSet: (set, sessionId) => void this.#takeSet(set, sessionId),
          },
    );
  }

  /** Leaves the current exercise: its session is finished and kept. */
  async leave(): Promise<void> {
    const { live } = this.#parts;
    this.rest.stop();
    this.approach.end();
    if (live.keeping.setCount > 0) await live.endSession();
    else if (live.stage !== 'none') live.close();
    live.askFor(null);
    this.questions.forget();
    this.#currentKey = null;
  }

  /** Keeps a set that was not measured. */
  async doneByHand(saidDone: DoneSet['saidDone']): Promise<void> {
    await this.#addSet({ ...OPEN_SET, saidDone }, null);
  }

  /** Takes the last set off the day: it was none. What was recorded of it stays in the session record alone. */
  async dropSet(): Promise<void> {
    if (this.#day === null) return;
    this.questions.forget();
    this.rest.stop();
    await this.#keep(withoutLastSet(this.#day));
  }

  /** Ends the day, done or not. */
  async end(): Promise<void> {
    if (this.#day === null) return;
    await this.#keep(endDay(this.#day, this.plan, this.#parts.moment(), this.past.before.days));
  }

  async #takeSet(set: FinishedSet, sessionId: string): Promise<void> {
    const measured = measuredDoneOf(set.findings, this.current?.dose.kind ?? 'repetitions');
    await this.#addSet({ ...OPEN_SET, measured }, sessionId);
    await this.#addImpulse(measured, set, sessionId);
  }

  /** What the set asked of the elbow is worked out from its frames, while the questions are answered. */
  async #addImpulse(
    measured: MeasuredDone,
    { index, findings }: FinishedSet,
    sessionId: string,
  ): Promise<void> {
    const { live, records } = this.#parts;
    const planned = this.current?.planned;
    if (planned === undefined || !('equipment' in planned) || planned.equipment === null) return;
    await live.keeping.flush();
    const opened = await records.open(sessionId);
    if (!opened.ok) return;
    const set = await opened.value.measure(index, () => undefined);
    opened.value.close();
    const impulse = setImpulseNms(set, findings.judgement, planned, this.plan.person);
    if (this.#day !== null && impulse !== null) await this.#keep(withImpulse(this.#day, measured, impulse));
  }

  async #addSet(set: DoneSet, recordId: string | null): Promise<void> {
    const planned = this.current?.planned;
    if (planned === undefined || this.#day === null) return;
    const { key: exerciseKey, exercise } = planned;
    const kept = this.#keep(withSet(this.#day, { exerciseKey, exercise, recordId }, set));
    this.questions.begin(exercise);
    if (this.nextSet !== null) this.#rest(planned.dose.restSeconds);
    await kept;
  }

  #restIsOver(): void {
    this.#parts.live.readout.announce('rest-over', 'rest');
  }

  #rest(restSeconds: number): void {
    this.rest.start(restSeconds);
    this.#parts.live.readout.announce('rest', 'rest', restSeconds);
  }

  #setBegins(): void {
    this.rest.stop();
    this.questions.forget();
  }

  /** Today as it goes on, with what a crash kept from being noted. */
  async #takenUp(day: TrainingDay | null): Promise<TrainingDay | null> {
    if (day === null || day.endedBecause !== null) return day;
    const whole = await withUnnotedSets(day, this.#parts.sessions);
    const { changed, today } = carriedOn(whole, this.plan, this.#parts.moment());
    if (changed !== null) await this.#put(changed);
    else if (whole !== day) await this.#put(whole);
    if (today === null) await this.past.look(this.plan, this.#parts.moment());
    return today;
  }

  async #change(change: Partial<TrainingDay>): Promise<void> {
    if (this.#day !== null) await this.#keep({ ...this.#day, ...change });
  }

  async #keep(day: TrainingDay): Promise<void> {
    this.#day = day;
    await this.#put(day);
  }

  async #put(day: TrainingDay): Promise<void> {
    const put = await this.#parts.plans.putDay(day);
    this.#problem = put.ok ? null : storageSentence(put.problem);
  }
}
