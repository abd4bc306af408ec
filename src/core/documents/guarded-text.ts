import { nameGivenTwice } from './name-given-twice.ts';
import { parseJson, type DocumentProblem, type Reading } from './read-document.ts';

/** Why a text is not even looked into as a document, beside what every document is refused for. */
export type GuardedProblem =
  | DocumentProblem
  | { readonly kind: 'too-long'; readonly characters: number; readonly mostCharacters: number }
  | { readonly kind: 'name-twice'; readonly name: string };

/** What a text from outside says in JSON; refused when it is too long, or says the same name twice in one object. */
export function parseGuarded(text: string, mostCharacters: number): Reading<unknown, GuardedProblem> {
  if (text.length > mostCharacters)
    return { ok: false, problem: { kind: 'too-long', characters: text.length, mostCharacters } };
  const parsed = parseJson(text);
  if (!parsed.ok) return parsed;
  const name = nameGivenTwice(text);
  return name === null ? parsed : { ok: false, problem: { kind: 'name-twice', name } };
}
