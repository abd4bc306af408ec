import { CONSULT_LIMITS } from '../core/consult/limits.ts';
import type { MessageProblem } from '../core/consult/read-message.ts';
import { messageSentence } from '../core/feedback/consult-words.ts';

/** What of one link was refused. */
export class LineRefusals {
  #count = 0;
  #latest = $state<string | null>(null);

  /** The sentence for the last one, or null. */
  get latest(): string | null {
    return this.#latest;
  }

  forget(): void {
    this.#count = 0;
    this.#latest = null;
  }

  /** Notes one. True when there were so many that the other side is held to be hostile. */
  note(problem: MessageProblem): boolean {
    this.#count += 1;
    this.#latest = messageSentence(problem);
    return this.#count >= CONSULT_LIMITS.refusals;
  }
}
