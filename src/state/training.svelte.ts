import type { TrainingCourse, TrainingParts } from './training-day.svelte.ts';

/** The plan that sessions here follow, as far as the first screen needs it. What a training day needs loads with it. */
export class Training {
  readonly #parts: TrainingParts;
  #course = $state.raw<TrainingCourse | null>(null);
  #isFree = $state(false);

  constructor(parts: TrainingParts) {
    this.#parts = parts;
  }

  /** The training day by the plan that is followed; null where none is. */
  get course(): TrainingCourse | null {
    return this.#course;
  }

  /** True while something is done that is not in the plan. */
  get isFree(): boolean {
    return this.#isFree;
  }

  /** Leaves the plan aside, or takes it up again. */
  goFree(isFree: boolean): void {
    this.#isFree = isFree;
  }

  /** Looks up the plan that is followed, and what was done of it. */
  async look(): Promise<void> {
    // Whoever is at an exercise is not to lose it to a newer version.
    if (this.#course !== null && this.#course.current !== null) return;
    const followed = await this.#parts.plans.followed();
    const plan = followed.ok ? followed.value : null;
    if (plan === null) {
      this.#course = null;
      return;
    }
    const { TrainingCourse } = await import('./training-day.svelte.ts');
    const isSame = this.#course?.plan.id === plan.id && this.#course.plan.version === plan.version;
    const course = this.#course !== null && isSame ? this.#course : new TrainingCourse(this.#parts, plan);
    await course.look();
    this.#course = course;
  }
}
