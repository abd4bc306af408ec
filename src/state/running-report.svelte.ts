import {
  runningRows,
  runningText,
  type FactRow,
  type RunningFacts,
} from '../core/feedback/diagnostics-words.ts';

/** How often the rows change, milliseconds: quicker than this they cannot be read. */
const SHOW_MS = 500;

/** How it runs, kept up to date while somebody reads it. */
export class RunningReport {
  readonly #facts: () => RunningFacts;
  #rows = $state.raw<readonly FactRow[]>([]);

  constructor(facts: () => RunningFacts) {
    this.#facts = facts;
  }

  /** Names and values, as of the last time somebody read them. */
  get rows(): readonly FactRow[] {
    return this.#rows;
  }

  /** Keeps the rows up to date from now on; call what is returned to end that. */
  read(): () => void {
    const show = (): void => {
      this.#rows = runningRows(this.#facts());
    };
    show();
    const timer = setInterval(show, SHOW_MS);
    return () => clearInterval(timer);
  }

  /** The same as text, with software and browser, to be sent along with a question. */
  text(): string {
    return runningText(this.#facts());
  }
}
