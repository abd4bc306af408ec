import type { Exercise } from '../exercises/exercise.ts';
import { dateOf, dayOf } from '../plan/calendar.ts';
import type { PlannedExerciseName } from '../plan/plan.ts';
import { planOf, type CameIn, type Person } from './people.ts';

/** What a search goes through, made once for a list. */
export type SearchIndex = ReadonlyMap<string, PersonWords>;

interface PersonWords {
  readonly own: readonly string[];
  readonly sessions: ReadonlyMap<string, readonly string[]>;
  /** Of training days, which may have come without a record. */
  readonly days: readonly (readonly string[])[];
}

/** How things are called on the screens, handed in because names are no matter of searching. */
export interface SearchNames {
  readonly exercise: (exercise: Exercise | PlannedExerciseName) => string;
  /** A date in words: "Mon 2 March". */
  readonly date: (day: number) => string;
}

/** Those sessions of somebody found that are meant. */
interface Meant {
  readonly sessions: readonly CameIn[];
}

/** Makes the words of everybody ready to be searched. */
export function searchIndex(people: readonly Person[], names: SearchNames): SearchIndex {
  return new Map(people.map((person) => [person.key, wordsOf(person, names)]));
}

/**
 * Whoever fits every word of a search, in the order given: words begin a word of the label, of an exercise or of a date;
 * figures are whole ("2 March" is not the 20th). Exercise and date must fit the same session or training day. Where the
 * label alone fits, all sessions are meant. An empty search fits everybody.
 */
export function findPeople<Item extends { readonly person: Person }>(
  items: readonly Item[],
  index: SearchIndex,
  search: string,
): (Item & Meant)[] {
  const asked = wordsIn(search);
  return items.flatMap((item): (Item & Meant)[] => {
    const { person } = item;
    const words = index.get(person.key);
    if (words === undefined) return [];
    if (fits(asked, words.own)) return [{ ...item, sessions: person.sessions }];
    const left = asked.filter((word) => !fits([word], words.own));
    const sessions = person.sessions.filter(({ listing }) =>
      fits(left, words.sessions.get(listing.id) ?? []),
    );
    if (sessions.length > 0) return [{ ...item, sessions }];
    return words.days.some((day) => fits(left, day)) ? [{ ...item, sessions: [] }] : [];
  });
}

function wordsOf(person: Person, names: SearchNames): PersonWords {
  return {
    own: wordsIn(planOf(person)?.person.label ?? ''),
    sessions: new Map(
      person.sessions.map(({ listing }) => [
        listing.id,
        [...wordsIn(names.exercise(listing.exercise)), ...dateWordsOf(listing.createdAt, names)],
      ]),
    ),
    days: person.days.map(({ startedAt, exercises }) => [
      ...exercises.flatMap(({ exercise }) => wordsIn(names.exercise(exercise))),
      ...dateWordsOf(startedAt, names),
    ]),
  };
}

/** A date as it may be typed: "2026-03-02", and in words with the year. */
function dateWordsOf(moment: string, names: SearchNames): string[] {
  const day = dayOf(moment);
  return [moment.slice(0, 10), ...wordsIn(names.date(day)), String(dateOf(day).year)];
}

function wordsIn(text: string): string[] {
  return text
    .toLowerCase()
    .split(/[\s,;/]+/)
    .filter((word) => word !== '');
}

function fits(asked: readonly string[], words: readonly string[]): boolean {
  return asked.every((word) =>
    /^\d+$/.test(word) ? words.includes(word) : words.some((each) => each.startsWith(word)),
  );
}
