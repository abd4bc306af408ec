import { withLastSet } from '../core/plan/day-course.ts';
import { painAfterSet, type SetPainVerdict } from '../core/plan/pain.ts';
import { questionAfter, questionBefore, questionsOf, type SetQuestion } from '../core/plan/set-questions.ts';
import type { Plan, PlannedExerciseName } from '../core/plan/plan.ts';
import type { DoneSet, HardestPlace, PainPlace, TrainingDay } from '../core/plan/training-day.ts';
import type { SessionKeeping } from './session-keeping.svelte.ts';

/** What the questions stand on. */
interface QuestionParts {
  readonly plan: Plan;
  readonly day: () => TrainingDay | null;
  readonly keep: (day: TrainingDay) => Promise<void>;
  /** The recording that keeps the answers as well; null where nothing is recorded. */
  readonly keeping: () => SessionKeeping | null;
}

/** The questions after a set. Each answer is kept at once, in the day and in the session record. */
export class SetQuestions {
  readonly #parts: QuestionParts;
  #exercise: PlannedExerciseName = 'hold';
  #now = $state<SetQuestion | null>(null);

  constructor(parts: QuestionParts) {
    this.#parts = parts;
  }

  /** The question that is asked now; null when all are answered. */
  get now(): SetQuestion | null {
    return this.#now;
  }

  /** The set that is asked about; null before the first. */
  get set(): DoneSet | null {
    return this.#parts.day()?.exercises.at(-1)?.sets.at(-1) ?? null;
  }

  /** What the last rating after a set comes to by the plan. */
  get verdict(): SetPainVerdict {
    const { plan, day } = this.#parts;
    return painAfterSet(plan, day()?.painBefore ?? null, this.set?.painAfter ?? null);
  }

  /** Begins with the first question about a set that has just ended. */
  begin(exercise: PlannedExerciseName): void {
    this.#exercise = exercise;
    this.#now = 'pain';
  }

  /** Asks no more about the last set. */
  forget(): void {
    this.#now = null;
  }

  /** Goes back to the question before. */
  back(): void {
    this.#now = questionBefore(this.#asked(), this.#now);
  }

  async answerPain(painAfter: number | null): Promise<void> {
    this.#parts.keeping()?.answerPain(painAfter);
    await this.#change({ painAfter, painOffer: null }, 'pain');
  }

  /** Keeps what was chosen because of pain. */
  async chooseOffer(painOffer: 'end-set' | 'shorten' | 'step-down'): Promise<void> {
    await this.#change({ painOffer }, 'offers');
  }

  async answerEffort(effort: number | null): Promise<void> {
    this.#parts.keeping()?.answerSetEffort(effort);
    await this.#change({ effort }, 'effort');
  }

  async answerHardest(hardest: HardestPlace | null): Promise<void> {
    this.#parts.keeping()?.answerHardest(hardest);
    await this.#change({ hardest }, 'hardest');
  }

  /** Keeps where it hurt; the places of the day's sets are gathered. */
  async answerPlaces(places: readonly PainPlace[]): Promise<void> {
    const day = this.#parts.day();
    this.#now = questionAfter(this.#asked(), 'places');
    if (day !== null) await this.#parts.keep({ ...day, painPlaces: [...places] });
  }

  async #change(change: Partial<DoneSet>, answered: SetQuestion): Promise<void> {
    const day = this.#parts.day();
    if (day === null) return;
    const kept = this.#parts.keep(withLastSet(day, change));
    this.#now = questionAfter(this.#asked(), answered);
    await kept;
  }

  #asked(): readonly SetQuestion[] {
    return questionsOf(this.#exercise, this.set, this.verdict);
  }
}
