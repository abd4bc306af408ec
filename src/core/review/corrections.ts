import type { Hold, Repetition, SetJudgement, Span } from '../exercises/judgement.ts';
import { CORRECTION_COUNTS, type Correction, type ItemRef } from './review-document.ts';

/** Why a correction does not hold any more. The sentences stand in feedback/review-words.ts. */
export type MisfitReason =
  /** The record has no such set, or no such hold or repetition at that time. */
  | 'not-in-record'
  /** What it corrects was replaced by another correction already. */
  | 'replaced-before'
  /** What it corrects came from a correction that was withdrawn, or does not hold itself. */
  | 'stands-on-nothing'
  /** What it puts in place lies elsewhere than what it takes away, or is out of order. */
  | 'elsewhere'
  /** What it puts in place lies over another hold or repetition. */
  | 'overlaps'
  /** It joins two between which another lies. */
  | 'not-neighbours'
  /** The review is of another record, or of the same one with other findings. */
  | 'other-record';

/** A correction that is not done, with its reason. */
export interface Misfit {
  readonly correction: Correction;
  readonly why: MisfitReason;
}

/** A hold or a repetition as it stands, and what led to it. */
export interface StandingItem<Item> {
  readonly item: Item;
  /** How a further correction names it. */
  readonly ref: ItemRef;
  /** The corrections that led to it, the first one first; none where it is as the program judged it. */
  readonly corrections: readonly Correction[];
}

/** A set's judgement after corrections. */
export interface CorrectedJudgement {
  readonly judgement: SetJudgement;
  /** One for each of the judgement's, in its order. */
  readonly holds: readonly StandingItem<Hold>[];
  readonly repetitions: readonly StandingItem<Repetition>[];
  /** What corrections took away without putting anything in its place. */
  readonly discarded: readonly (StandingItem<Span> & { readonly by: Correction })[];
  readonly misfits: readonly Misfit[];
}

/** Neighbours of the record itself may share so much: their ends are fitted one by one. Seconds; chosen for this tool. */
const SHARED_SECONDS = 0.25;

/**
 * The judgement of a set as it stands after corrections, in their order; withdrawn ones count for nothing. The judgement
 * that is given stays as it is. What does not fit is told, and nothing of it is done.
 * @param corrections - those of this set
 */
export function correctedJudgement(
  judgement: SetJudgement,
  corrections: readonly Correction[],
): CorrectedJudgement {
  const holds = correctedItems(
    judgement.holds,
    corrections.filter(({ item }) => item === 'hold'),
    ({ instead }) => instead.holds,
  );
  const repetitions = correctedItems(
    judgement.repetitions,
    corrections.filter(({ item }) => item === 'repetition'),
    ({ instead }) => instead.repetitions,
  );
  return {
    judgement: {
      holds: holds.standing.map(({ item }) => item),
      repetitions: repetitions.standing.map(({ item }) => item),
    },
    holds: holds.standing,
    repetitions: repetitions.standing,
    discarded: inTime([...holds.discarded, ...repetitions.discarded]),
    misfits: [...holds.misfits, ...repetitions.misfits],
  };
}

/** True of two names of the same hold or repetition. */
function isSameRef(one: ItemRef, other: ItemRef): boolean {
  if (one.from === 'record') return other.from === 'record' && one.index === other.index;
  return other.from === 'correction' && one.correctionId === other.correctionId && one.part === other.part;
}

interface Standing<Item extends Span> {
  readonly standing: readonly StandingItem<Item>[];
  readonly discarded: CorrectedJudgement['discarded'];
  readonly misfits: readonly Misfit[];
}

function correctedItems<Item extends Span>(
  items: readonly Item[],
  corrections: readonly Correction[],
  insteadOf: (correction: Correction) => readonly Item[],
): Standing<Item> {
  const first: Standing<Item> = {
    standing: items.map((item, index) => ({ item, ref: refOf(item, index), corrections: [] })),
    discarded: [],
    misfits: [],
  };
  const withdrawn = new Set(
    corrections.filter(({ withdrawnAt }) => withdrawnAt !== null).map(({ id }) => id),
  );
  return corrections
    .filter(({ id }) => !withdrawn.has(id))
    .reduce((before, correction) => {
      const targets = correction.targets.map((ref) => before.standing.find((one) => isSameRef(one.ref, ref)));
      const found = targets.flatMap((target) => target ?? []);
      const instead = insteadOf(correction);
      const why =
        found.length === targets.length && found.every((one, i) => isMeant(one, correction.targets[i]))
          ? misfitOf(before.standing, found, correction, instead)
          : whyNotFound(items, before, correction);
      if (why !== null) return { ...before, misfits: [...before.misfits, { correction, why }] };
      const led = [...new Set([...found.flatMap((one) => one.corrections), correction])];
      const put = instead.map((item, part): StandingItem<Item> => ({
        item,
        ref: { from: 'correction', correctionId: correction.id, part },
        corrections: led,
      }));
      const left = before.standing.filter((one) => !found.includes(one));
      const gone = correction.kind === 'discard' ? found.map((one) => ({ ...one, by: correction })) : [];
      return {
        ...before,
        standing: put.length === 0 ? left : inTime([...left, ...put]),
        discarded: [...before.discarded, ...gone],
      };
    }, first);
}

function refOf({ startSeconds, endSeconds }: Span, index: number): ItemRef {
  return { from: 'record', index, startSeconds, endSeconds };
}

/** The times of the record show whether it is the one that was meant. */
function isMeant({ item }: StandingItem<Span>, ref: ItemRef | undefined): boolean {
  return (
    ref?.from !== 'record' || (ref.startSeconds === item.startSeconds && ref.endSeconds === item.endSeconds)
  );
}

function whyNotFound<Item extends Span>(
  items: readonly Item[],
  { standing }: Standing<Item>,
  { targets }: Correction,
): MisfitReason {
  const missing = targets.find(
    (ref) => !standing.some((one) => isSameRef(one.ref, ref) && isMeant(one, ref)),
  );
  if (missing?.from !== 'record') {
    const taken = standing.some(({ corrections }) =>
      corrections.some(({ id }) => id === missing?.correctionId),
    );
    return taken ? 'replaced-before' : 'stands-on-nothing';
  }
  const item = items[missing.index];
  const isThere = item?.startSeconds === missing.startSeconds && item.endSeconds === missing.endSeconds;
  return isThere ? 'replaced-before' : 'not-in-record';
}

function misfitOf<Item extends Span>(
  standing: readonly StandingItem<Item>[],
  targets: readonly StandingItem<Item>[],
  { kind }: Correction,
  instead: readonly Item[],
): MisfitReason | null {
  const { takes, puts } = CORRECTION_COUNTS[kind];
  const inOrder = instead.every(
    ({ startSeconds, endSeconds }, i) =>
      startSeconds <= endSeconds &&
      startSeconds >= (instead[i - 1]?.endSeconds ?? -Infinity) - SHARED_SECONDS,
  );
  if (targets.length !== takes || instead.length !== puts || !inOrder) return 'elsewhere';
  const [one, other] = targets.map((target) => standing.indexOf(target));
  if (kind === 'join' && Math.abs((one ?? 0) - (other ?? 0)) !== 1) return 'not-neighbours';
  const touches = (a: Span, b: Span): boolean =>
    a.startSeconds <= b.endSeconds && b.startSeconds <= a.endSeconds;
  if (instead.some((item) => takes > 0 && !targets.some((target) => touches(item, target.item))))
    return 'elsewhere';
  const others = standing.filter((one) => !targets.includes(one));
  const covers = instead.some((item) => others.some((one) => sharedSeconds(item, one.item) > SHARED_SECONDS));
  return covers ? 'overlaps' : null;
}

function sharedSeconds(a: Span, b: Span): number {
  return Math.min(a.endSeconds, b.endSeconds) - Math.max(a.startSeconds, b.startSeconds);
}

function inTime<Item extends Span, One extends StandingItem<Item>>(items: readonly One[]): One[] {
  return [...items].sort((a, b) => a.item.startSeconds - b.item.startSeconds);
}
