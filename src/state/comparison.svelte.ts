import type { Hold, Repetition } from '../core/exercises/judgement.ts';
import type { PlanStore } from '../core/plan/plan-store.ts';
import type { TrainingDay } from '../core/plan/training-day.ts';
import { countingReview } from '../core/review/change-review.ts';
import type { ComparedPart } from '../core/review/compared-part.ts';
import { compareFigures, type ComparedFigure, type ComparedSide } from '../core/review/compare-figures.ts';
import { curveOver, meanCurve, type MeanCurve } from '../core/review/compare-curves.ts';
import { correctedSession } from '../core/review/corrected-session.ts';
import { reviewedDays } from '../core/review/reviewed-days.ts';
import type { ReviewStore } from '../core/review/review-store.ts';
import type { MeasuredSet, ShownMeasure } from '../core/session/measured-set.ts';
import type { OpenedRecord, RecordOpener, RecordOutline } from '../core/session/record-opener.ts';
import type { SetFindings } from '../core/session/session-record.ts';
import type { StorageProblem } from '../core/stored.ts';

/** What a comparison needs from outside. */
export interface ComparisonParts {
  readonly records: RecordOpener;
  readonly plans: Pick<PlanStore, 'listDays'>;
  readonly reviews: () => Promise<Pick<ReviewStore, 'reviewsOf' | 'listReviews'>>;
}

/** Which of the two. */
export type Which = 0 | 1;
export const BOTH: readonly Which[] = [0, 1];

/** A session as it is compared: as it stands after its review. */
export interface OpenSide {
  readonly outline: RecordOutline;
  readonly findings: readonly SetFindings[];
  readonly correctionCount: number;
}

/** One hold or repetition of a side, with its place. */
export interface Part {
  readonly setIndex: number;
  /** Counted from 1 within its set. */
  readonly number: number;
  readonly item: Hold | Repetition;
}

/** Which sets and parts are compared; null: all. */
interface Chosen {
  readonly setIndex: number | null;
  /** Counted from 1 within the set. */
  readonly number: number | null;
}

const ALL: Chosen = { setIndex: null, number: null };

/** Two sessions, or two repetitions of them, beside each other. */
export class Comparison {
  readonly #parts: ComparisonParts;
  #opened: readonly OpenedRecord[] = [];
  #sides = $state.raw<readonly OpenSide[]>([]);
  #measured = $state.raw<readonly (readonly (MeasuredSet | null)[])[]>([[], []]);
  #days = $state.raw<readonly TrainingDay[]>([]);
  #chosen = $state.raw<readonly Chosen[]>([ALL, ALL]);
  #problem = $state.raw<StorageProblem | null>(null);
  #asked = 0;

  constructor(parts: ComparisonParts) {
    this.#parts = parts;
  }

  /** Both sides; empty until both are open. */
  get sides(): readonly OpenSide[] {
    return this.#sides;
  }

  get problem(): StorageProblem | null {
    return this.#problem;
  }

  /** True once every set that is compared was measured again. */
  get isMeasured(): boolean {
    return (
      this.#sides.length > 0 &&
      BOTH.every((which) => this.#partsOf(which).every((part) => this.#setOf(which, part)))
    );
  }

  chosen(which: Which): Chosen {
    return this.#chosen[which] ?? ALL;
  }

  /** Compares one set of a side, or all of them. */
  chooseSet(which: Which, setIndex: number | null): void {
    this.#chosen = this.#chosen.with(which, { setIndex, number: null });
  }

  /** Compares one hold or repetition of the chosen set, or all of them. */
  choosePart(which: Which, number: number | null): void {
    this.#chosen = this.#chosen.with(which, { ...this.chosen(which), number });
  }

  /** How many holds or repetitions a set has. */
  partCount(which: Which, setIndex: number): number {
    return this.#all(which).filter((part) => part.setIndex === setIndex).length;
  }

  /** What is compared of a side, in order. */
  partsOf(which: Which): readonly Part[] {
    return this.#partsOf(which);
  }

  /** The set that a part was measured in, or null while that goes on. */
  setOf(which: Which, part: Part): MeasuredSet | null {
    return this.#setOf(which, part);
  }

  /** Mean and spread of a measure over what is compared of a side. */
  curve(which: Which, measure: ShownMeasure): MeanCurve {
    return meanCurve(
      this.#partsOf(which).flatMap((part) => {
        const set = this.#setOf(which, part);
        return set === null ? [] : [curveOver(set.timesSeconds, set.columns[measure].values, part.item)];
      }),
    );
  }

  /** The figures beside each other, and what changed. */
  get figures(): readonly ComparedFigure[] {
    const [first, second] = BOTH.map((which) => this.#compared(which));
    return first === undefined || second === undefined || this.#sides.length === 0
      ? []
      : compareFigures(first, second, this.#days);
  }

  /**
   * Opens two sessions, the older first; or one session twice.
   * @param parts - one hold or repetition of each; null: all of it
   */
  async open(
    sessionIds: readonly [string, string],
    parts: readonly (ComparedPart | null)[] = [],
  ): Promise<void> {
    this.close();
    const asked = this.#asked;
    const opened = await Promise.all(sessionIds.map((id) => this.#parts.records.open(id)));
    const found = opened.flatMap((each, place) =>
      each.ok ? [{ record: each.value, part: parts[place] ?? null }] : [],
    );
    for (const each of opened) if (!each.ok) this.#problem = each.problem;
    if (this.#asked !== asked || found.length < 2) {
      for (const { record } of found) record.close();
      return;
    }
    found.sort(inTime);
    const records = found.map(({ record }) => record);
    const sides = await Promise.all(records.map((record) => this.#sideOf(record.outline)));
    const [planId, otherId] = sides.map(({ outline }) => outline.plan?.planId);
    const days = planId !== undefined && planId === otherId ? await this.#daysOf(planId) : [];
    if (this.#asked !== asked) return;
    this.#opened = records;
    this.#sides = sides;
    this.#days = days;
    this.#chosen = found.map(({ part }) => part ?? ALL);
    this.#measured = sides.map(({ outline }) => outline.sets.map(() => null));
    for (const which of BOTH) await this.#measure(which, asked);
  }

  /** Lets go of what is open. */
  close(): void {
    this.#asked += 1;
    for (const record of this.#opened) record.close();
    this.#opened = [];
    this.#sides = [];
    this.#problem = null;
  }

  async #sideOf(outline: RecordOutline): Promise<OpenSide> {
    const reviews = await (await this.#parts.reviews()).reviewsOf(outline.id);
    const review = reviews.ok ? countingReview(reviews.value.items) : null;
    const { findings, correctionCount } = correctedSession(outline, review);
    return { outline, findings, correctionCount };
  }

  async #daysOf(planId: string): Promise<readonly TrainingDay[]> {
    const days = await this.#parts.plans.listDays(planId);
    const reviews = await (await this.#parts.reviews()).listReviews();
    if (!days.ok) return [];
    const kept = reviews.ok ? reviews.value.items : [];
    return (await reviewedDays(days.value.items, kept, this.#parts.records)).days;
  }

  async #measure(which: Which, asked: number): Promise<void> {
    const record = this.#opened[which];
    for (const setIndex of record?.outline.sets.keys() ?? []) {
      if (this.#asked !== asked || record === undefined) return;
      try {
        const measured = await record.measure(setIndex, () => undefined);
        const sets = this.#measured[which] ?? [];
        if (this.#asked === asked) this.#measured = this.#measured.with(which, sets.with(setIndex, measured));
      } catch {
        // Frames of which nothing can be worked out, or that went away meanwhile.
        if (this.#asked === asked) this.#problem = 'unreadable';
      }
    }
  }

  #all(which: Which): readonly Part[] {
    return (this.#sides[which]?.findings ?? []).flatMap(({ judgement: { holds, repetitions } }, setIndex) =>
      [...holds, ...repetitions].map((item, index) => ({ setIndex, number: index + 1, item })),
    );
  }

  #partsOf(which: Which): readonly Part[] {
    const { setIndex, number } = this.chosen(which);
    return this.#all(which).filter(
      (part) =>
        (setIndex === null || part.setIndex === setIndex) && (number === null || part.number === number),
    );
  }

  #setOf(which: Which, { setIndex }: Part): MeasuredSet | null {
    return this.#measured[which]?.[setIndex] ?? null;
  }

  #compared(which: Which): ComparedSide | undefined {
    const side = this.#sides[which];
    if (side === undefined) return undefined;
    const parts = this.#partsOf(which);
    return {
      outline: side.outline,
      yawDegs: parts.map(({ setIndex }) => side.findings[setIndex]?.view.cameraYawDeg ?? null),
      holds: parts.flatMap(({ item }) => ('inRangeSeconds' in item ? [item] : [])),
      repetitions: parts.flatMap(({ item }) => ('loweringSeconds' in item ? [item] : [])),
      isSingle: this.chosen(which).number !== null,
    };
  }
}

interface Found {
  readonly record: OpenedRecord;
  readonly part: ComparedPart | null;
}

/** By when the session began, then by the place in it. */
function inTime(a: Found, b: Found): number {
  const place = ({ part }: Found): number => (part === null ? 0 : part.setIndex * 10_000 + part.number);
  return (
    Date.parse(a.record.outline.createdAt) - Date.parse(b.record.outline.createdAt) || place(a) - place(b)
  );
}
