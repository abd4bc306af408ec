import type { StorageProblem } from '../../core/stored.ts';

/** Names under which browsers and Dexie report each problem. Dexie wraps the browser's error as `inner`. */
const NAMES: readonly (readonly [StorageProblem, readonly string[]])[] = [
  ['full', ['QuotaExceededError']],
  ['lost-connection', ['DatabaseClosedError', 'TransactionInactiveError', 'PrematureCommitError']],
  ['forbidden', ['SecurityError', 'MissingAPIError', 'NotAllowedError']],
];

/**
 * Parts of messages where the name alone does not tell. Safari loses the database when the machine wakes ("Connection
 * to Indexed Database server lost"); a connection that is closing refuses transactions; Firefox refuses to change
 * anything in a private window.
 */
const MESSAGES: readonly (readonly [StorageProblem, RegExp])[] = [
  ['full', /quota|disk (is )?full|no space/i],
  ['lost-connection', /connection (is|was)? ?(closing|lost)|server lost|backing store/i],
  ['forbidden', /did not allow mutations|denied|not allowed|insecure/i],
];

/** What a failure of the browser's database means. Looks through the errors that wrap each other. */
export function storageProblemOf(error: unknown): StorageProblem {
  const chain = errorChain(error);
  for (const [problem, names] of NAMES) if (chain.some(({ name }) => names.includes(name))) return problem;
  for (const [problem, pattern] of MESSAGES)
    if (chain.some(({ message }) => pattern.test(message))) return problem;
  return 'other';
}

/** The platform's own words, for developers. */
export function failureDetail(error: unknown): string {
  return error instanceof Error ? `${error.name}: ${error.message}` : String(error);
}

function errorChain(error: unknown): Error[] {
  const chain: Error[] = [];
  for (let at = error; at instanceof Error && !chain.includes(at); at = inner(at)) chain.push(at);
  return chain;
}

function inner(error: Error): unknown {
  return 'inner' in error ? error.inner : error.cause;
}
