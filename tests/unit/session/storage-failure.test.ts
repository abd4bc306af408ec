import { describe, expect, it } from 'vitest';
import { storageProblemOf } from '../../../src/adapters/storage/storage-failure.ts';

/** An error as Dexie hands it on: its own name around the browser's error. */
function wrapped(name: string, inner: Error): Error {
  return Object.assign(new Error(`${inner.name} ${inner.message}`), { name, inner });
}

describe('what a failure of the database means', () => {
  it.each([
    ['full', new DOMException('', 'QuotaExceededError')],
    ['full', wrapped('AbortError', new DOMException('', 'QuotaExceededError'))],
    ['full', wrapped('OpenFailedError', new DOMException('The quota has been exceeded.', 'UnknownError'))],
    ['forbidden', new DOMException('The operation is insecure.', 'SecurityError')],
    // Firefox in a private window.
    [
      'forbidden',
      wrapped(
        'OpenFailedError',
        new DOMException(
          'A mutation operation was attempted on a database that did not allow mutations.',
          'InvalidStateError',
        ),
      ),
    ],
    ['forbidden', Object.assign(new Error('IndexedDB API missing.'), { name: 'MissingAPIError' })],
    // Safari after the machine slept; the text is from the report dexie/Dexie.js #2296.
    ['lost-connection', new DOMException('Connection to Indexed Database server lost.', 'UnknownError')],
    [
      'lost-connection',
      new DOMException(
        "Failed to execute 'transaction' on 'IDBDatabase': The database connection is closing.",
        'InvalidStateError',
      ),
    ],
    [
      'lost-connection',
      Object.assign(new Error('Database has been closed'), { name: 'DatabaseClosedError' }),
    ],
    ['other', new Error('something else')],
    ['other', 'no error at all'],
  ])('%s', (problem, error) => {
    expect(storageProblemOf(error)).toBe(problem);
  });

  it('does not run for ever over errors that wrap each other in a ring', () => {
    const first = new Error('first');
    first.cause = wrapped('second', first);
    expect(storageProblemOf(first)).toBe('other');
  });
});
