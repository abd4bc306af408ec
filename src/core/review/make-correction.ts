import type { AskedPart } from '../exercises/judge-by-hand.ts';
import type { Flag, FlagKind, Hold, Repetition, SetJudgement, Span } from '../exercises/judgement.ts';

/** What somebody wants to do with a hold or a repetition, or two of them, in time order. */
export type Wish =
  | { readonly kind: 'discard' }
  | { readonly kind: 'split'; readonly atSeconds: number }
  | { readonly kind: 'join' }
  | { readonly kind: 'rejudge'; readonly span: Span }
  | { readonly kind: 'add'; readonly span: Span };

/**
 * The parts that have to be judged anew for a wish: ends that were set or stand already are kept, and beside a split the
 * program finds where the one ends and the other begins. Empty where nothing has to be judged, null where the wish makes
 * no sense: a split outside, an end before its start.
 * @param targets - what the wish is about, in time order
 */
export function partsFor(wish: Wish, targets: readonly Span[]): readonly AskedPart[] | null {
  const [first, last] = [targets[0], targets.at(-1)];
  const kept = (span: Span): readonly AskedPart[] | null =>
    span.startSeconds < span.endSeconds
      ? [{ startSeconds: span.startSeconds, endSeconds: span.endSeconds, keepsStart: true, keepsEnd: true }]
      : null;
  if (wish.kind === 'add') return kept(wish.span);
  if (first === undefined || last === undefined) return null;
  switch (wish.kind) {
    case 'discard':
      return [];
    case 'join':
      return kept({ startSeconds: first.startSeconds, endSeconds: last.endSeconds });
    case 'rejudge': {
      const { startSeconds, endSeconds } = wish.span;
      const isMoved = startSeconds !== first.startSeconds || endSeconds !== first.endSeconds;
      return isMoved ? kept(wish.span) : [];
    }
    case 'split': {
      const { atSeconds } = wish;
      if (atSeconds <= first.startSeconds || atSeconds >= first.endSeconds) return null;
      return [
        { startSeconds: first.startSeconds, endSeconds: atSeconds, keepsStart: true, keepsEnd: false },
        { startSeconds: atSeconds, endSeconds: first.endSeconds, keepsStart: false, keepsEnd: true },
      ];
    }
  }
}

/** What somebody says of a repetition or a hold against the program. */
export interface Verdict {
  /** Null leaves it as it is. */
  readonly partial: boolean | null;
  /** "as-is" leaves it; null: it cannot be told. */
  readonly shoulderDominant: boolean | null | 'as-is';
  /** What was noticed and is not so. */
  readonly notSo: readonly FlagKind[];
}

/** Leaves everything as it is. */
export const NO_VERDICT: Verdict = { partial: null, shoulderDominant: 'as-is', notSo: [] };

/** A repetition as somebody says that it is; what was noticed follows. */
export function withVerdict(repetition: Repetition, verdict: Verdict): Repetition {
  const partial = verdict.partial ?? repetition.partial;
  if (verdict.shoulderDominant === 'as-is')
    return { ...repetition, partial, flags: withoutFlags(repetition.flags, verdict.notSo) };
  const others = withoutFlags(repetition.flags, ['shoulder-dominant', ...verdict.notSo]);
  const { startSeconds, topStartSeconds } = repetition;
  const led: Flag = {
    kind: 'shoulder-dominant',
    startSeconds,
    endSeconds: topStartSeconds,
    evidenceSeconds: [topStartSeconds],
  };
  const kept = repetition.flags.find(({ kind }) => kind === 'shoulder-dominant') ?? led;
  const isLed = verdict.shoulderDominant === true;
  return {
    ...repetition,
    partial,
    shoulderDominant: verdict.shoulderDominant,
    flags: isLed ? [kept, ...others] : others,
  };
}

/** A hold in which some of what was noticed is not so. */
function withVerdictOnHold(hold: Hold, { notSo }: Verdict): Hold {
  return { ...hold, flags: withoutFlags(hold.flags, notSo) };
}

/** What stands in place after a verdict on what was judged. */
export function judgedWithVerdict(judgement: SetJudgement, verdict: Verdict): SetJudgement {
  return {
    holds: judgement.holds.map((hold) => withVerdictOnHold(hold, verdict)),
    repetitions: judgement.repetitions.map((repetition) => withVerdict(repetition, verdict)),
  };
}

function withoutFlags(flags: readonly Flag[], notSo: readonly FlagKind[]): Flag[] {
  return flags.filter(({ kind }) => !notSo.includes(kind));
}
