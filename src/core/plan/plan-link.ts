import { strToU8 } from 'fflate';
import { packText, unpackText } from '../documents/packed-text.ts';
import { LINK_WORDS_1 } from './link-words.ts';
import { planSchema, type Plan } from './plan.ts';
import { MOST_CHARACTERS, readPlan, type PlanProblem, type PlanReading } from './read-plan.ts';

/** What the fragment of a link to a plan begins with; the digit is the link's own format. */
const BEGINNING = 'plan=1.';
const ANY_BEGINNING = /^#?plan=(\d+)\.(.*)$/;
/** A link of this many characters or more is refused unread: a plan has some hundreds, with everything changed some thousands. */
const MOST_LINK_CHARACTERS = 200_000;

const WORDS = strToU8(LINK_WORDS_1);

/**
 * A plan as the fragment of a link, without "#": never sent to a server, because browsers keep fragments to themselves
 * (RFC 9110, section 4.2.3). Packed with deflate (RFC 1951) against the usual words of a plan, with a check sum before it,
 * in the alphabet of RFC 4648, section 5. A plan near the one that stands ready has under 300 characters. Throws when it is
 * no plan by the schema.
 */
export function planFragment(plan: Plan): string {
  // Members in the schema's order, as in the words that it is packed against.
  return BEGINNING + packText(JSON.stringify(planSchema.parse(plan)), WORDS);
}

/** Whether a fragment, with or without "#", says that it holds a plan. */
export function holdsPlan(fragment: string): boolean {
  return ANY_BEGINNING.test(fragment);
}

/** The plan in a fragment, with or without "#", or why there is none. A link with a character changed is refused. */
export function planOfFragment(fragment: string): PlanReading {
  if (fragment.length >= MOST_LINK_CHARACTERS) return tooLong(fragment.length, MOST_LINK_CHARACTERS);
  const [, format, content = ''] = ANY_BEGINNING.exec(fragment) ?? [];
  if (format === undefined) return refuse({ kind: 'not-ours' });
  if (format !== '1') return refuse({ kind: 'newer-version', version: Number(format), readableVersion: 1 });
  const text = unpackText(content, { dictionary: WORDS, mostBytes: MOST_CHARACTERS });
  if (text.ok) return readPlan(text.value);
  return text.problem === 'too-long'
    ? tooLong(MOST_CHARACTERS + 1, MOST_CHARACTERS)
    : refuse({ kind: 'link-damaged' });
}

function tooLong(characters: number, mostCharacters: number): PlanReading {
  return refuse({ kind: 'too-long', characters, mostCharacters });
}

function refuse(problem: PlanProblem): PlanReading {
  return { ok: false, problem };
}
