import type { PainRules } from './pain-rules.ts';
import type { TrainingDay } from './training-day.ts';

/** Whether a rating keeps below what is allowed; nothing is said of a rating that was not given. */
export type PainVerdict = 'within' | 'above' | 'not-answered';

/**
 * Highest rating (0 to 10) that is still within the rules in a session: the allowed rise above the rating before it, and
 * never more than mostAllowed. Null when the rating before was not given and no other limit is set: then nothing can be
 * said, and it must be asked.
 */
export function painCeiling(
  { painRules }: { readonly painRules: PainRules },
  painBefore: number | null,
): number | null {
  return ceilingAbove(painBefore, painRules.riseAllowed, painRules.mostAllowed);
}

/** The same for the next morning, above the rating before the session. */
export function nextMorningCeiling(
  { painRules }: { readonly painRules: PainRules },
  painBefore: number | null,
): number | null {
  return ceilingAbove(painBefore, painRules.nextMorningRiseAllowed, painRules.mostAllowed);
}

/** What a rating after a set comes to, and what the session then offers, in the plan's order. */
export interface SetPainVerdict {
  readonly verdict: PainVerdict;
  readonly ceiling: number | null;
  /** Empty unless pain is above the ceiling. */
  readonly offers: PainRules['offers'];
}

/** Weighs the rating after a set. Without a ceiling only a rating of 0 is within. */
export function painAfterSet(
  plan: { readonly painRules: PainRules },
  painBefore: number | null,
  painAfter: number | null,
): SetPainVerdict {
  const ceiling = painCeiling(plan, painBefore);
  const verdict = verdictOf(painAfter, ceiling);
  return { verdict, ceiling, offers: verdict === 'above' ? plan.painRules.offers : [] };
}

/** Weighs every rating of a session: above when one is, not answered when one is missing and none is above. */
export function sessionPain(plan: { readonly painRules: PainRules }, day: TrainingDay): PainVerdict {
  const ceiling = painCeiling(plan, day.painBefore);
  const ratings = [
    ...day.exercises.flatMap(({ sets }) => sets.map(({ painAfter }) => painAfter)),
    day.painAtEnd,
  ];
  const verdicts = ratings.map((rating) => verdictOf(rating, ceiling));
  // Who ended for pain has answered, whatever the ratings say.
  if (day.endedBecause === 'pain' || verdicts.includes('above')) return 'above';
  return day.painBefore === null || verdicts.includes('not-answered') ? 'not-answered' : 'within';
}

/** Weighs the rating of the next morning. */
export function nextMorningPain(plan: { readonly painRules: PainRules }, day: TrainingDay): PainVerdict {
  return verdictOf(day.nextMorning?.pain ?? null, nextMorningCeiling(plan, day.painBefore));
}

/** Highest rating that was given in a session; null when none was. */
export function worstPain(day: TrainingDay): number | null {
  const given = [
    ...day.exercises.flatMap(({ sets }) => sets.flatMap(({ painAfter }) => painAfter ?? [])),
    ...(day.painAtEnd === null ? [] : [day.painAtEnd]),
  ];
  return given.length === 0 ? null : Math.max(...given);
}

function ceilingAbove(before: number | null, rise: number, most: number | null): number | null {
  if (before === null) return most;
  return Math.min(before + rise, most ?? 10, 10);
}

function verdictOf(rating: number | null, ceiling: number | null): PainVerdict {
  if (rating === null) return 'not-answered';
  if (ceiling === null) return rating === 0 ? 'within' : 'not-answered';
  return rating > ceiling ? 'above' : 'within';
}
