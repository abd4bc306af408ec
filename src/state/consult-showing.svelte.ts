import { partsOf, seenAgain, type SeenPicture } from '../core/consult/seen-parts.ts';
import type { Prescription } from '../core/consult/messages.ts';
import type { ShownFrame } from '../core/consult/showing-entries.ts';
import { endedSets, shownBeside, type EndedSet, type ShownBeside } from '../core/consult/shown-beside.ts';
import type { SetJudgement } from '../core/exercises/judgement.ts';
import type { ConsultLine } from './consult-line.svelte.ts';

/** Pictures of one set that are remembered at most, until it is judged: an hour at the usual rate. */
const MOST_SEEN = 60_000;

interface PictureSize {
  readonly widthPx: number;
  readonly heightPx: number;
}

/** What is shown to both between sets: how the exercise is done, or a hold or repetition once more. */
export class ConsultShowing {
  readonly #line: Pick<ConsultLine, 'course' | 'add'>;
  readonly #shown = $derived.by((): ShownBeside | null => shownBeside(this.#line.course.lines));
  readonly #ended = $derived.by((): readonly EndedSet[] => endedSets(this.#line.course.lines));
  #seen: SeenPicture[] = [];
  #size: PictureSize = { widthPx: 1, heightPx: 1 };
  /** Figures of the parts of each set, sets counted from 1. */
  #kept: (readonly (readonly ShownFrame[])[])[] = [];

  constructor(line: Pick<ConsultLine, 'course' | 'add'>) {
    this.#line = line;
  }

  /** What both sides are shown now; null for nothing. */
  get shown(): ShownBeside | null {
    return this.#shown;
  }

  /** The sets of the exercise that is asked for now, with how many of their parts can be shown again. */
  get ended(): readonly EndedSet[] {
    return this.#ended;
  }

  /** Shows both how the exercise is done, beside its usual fault. */
  demonstrate({ exercise, side, variant }: Prescription): void {
    this.#line.add({ what: 'demonstration-shown', exercise, side, variant });
  }

  /** Asks the side that measures for a hold or a repetition, both counted from 1. */
  ask(setNumber: number, part: number): void {
    this.#line.add({ what: 'repetition-asked', setNumber, part });
  }

  end(): void {
    this.#line.add({ what: 'showing-ended' });
  }

  /** A session begins: what was seen before belongs to another one. */
  beginSession(): void {
    this.#kept = [];
    this.beginSet();
  }

  beginSet(): void {
    this.#seen = [];
  }

  /** Remembers what was measured in a picture of the set that runs. */
  see(picture: SeenPicture, { widthPx, heightPx }: PictureSize): void {
    this.#size = { widthPx, heightPx };
    if (this.#seen.length < MOST_SEEN) this.#seen.push(picture);
  }

  /** Keeps the figures of a set's parts. Gives how many there are. */
  endSet(setNumber: number, judgement: SetJudgement): number {
    const parts = partsOf(judgement);
    this.#kept[setNumber - 1] = parts.map((part) => seenAgain(this.#seen, part));
    this.#seen = [];
    return parts.length;
  }

  /** Shows what was asked for, or says that it is not there. */
  answer({ setNumber, part }: { readonly setNumber: number; readonly part: number }): void {
    const frames = this.#kept[setNumber - 1]?.[part - 1] ?? [];
    this.#line.add({ what: 'repetition-shown', setNumber, part, ...this.#size, frames: [...frames] });
  }
}
