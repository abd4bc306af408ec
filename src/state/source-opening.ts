import { sourceSentence } from '../core/feedback/source-problems.ts';
import type { FrameSource, OpenedSource } from '../core/pose/frame-source.ts';

/** A source that was opened, or the sentence for why there is none. */
type Opening =
  | { readonly source: FrameSource; readonly isLatest: () => boolean }
  | { readonly source: null; readonly sentence: string };

/** Opens one source at a time: the latest wish counts, and what a late answer to an earlier one brings is given back. */
export class SourceOpening {
  #wish = 0;

  /** Nothing is wished any more: what is still being opened is given back when it comes. */
  forget(): void {
    this.#wish += 1;
  }

  /**
   * Waits for a source and for what is loaded beside it, which tells the sentence for why it could not be, or null. Null when
   * another wish came meanwhile.
   */
  async open(opening: Promise<OpenedSource>, load: () => Promise<string | null>): Promise<Opening | null> {
    this.#wish += 1;
    const wish = this.#wish;
    const isLatest = (): boolean => wish === this.#wish;
    const [opened, problem] = await Promise.all([opening, load()]);
    if (opened.ok && (problem !== null || !isLatest())) opened.source.stop();
    if (!isLatest()) return null;
    if (!opened.ok) return { source: null, sentence: sourceSentence(opened.problem) };
    return problem === null ? { source: opened.source, isLatest } : { source: null, sentence: problem };
  }
}
