import {
  beginPhrase,
  phraseOf,
  stepPhrase,
  type Fingerprints,
  type PhraseParts,
  type PhraseState,
} from '../core/consult/check-phrase.ts';
import type { RecordMessage } from '../core/consult/messages.ts';

/** The exchange that makes the check phrase of one link. */
export class LinePhrase {
  readonly #role: PhraseParts['role'];
  readonly #newNonce: () => string;
  #state: PhraseState | null = null;
  #words = $state.raw<readonly string[] | null>(null);

  constructor(role: PhraseParts['role'], newNonce: () => string) {
    this.#role = role;
    this.#newNonce = newNonce;
  }

  /** The words to compare; null before they are known. */
  get words(): readonly string[] | null {
    return this.#words;
  }

  /** Another link. */
  forget(): void {
    this.#state = null;
    this.#words = null;
  }

  /** Begins the exchange, once: what is to be sent. */
  begin(fingerprints: Fingerprints | null): readonly RecordMessage[] {
    if (this.#state !== null || fingerprints === null) return [];
    const nonce = this.#newNonce();
    const { state, send } = beginPhrase({ role: this.#role, fingerprints, nonce });
    this.#state = state;
    return send;
  }

  /** Takes in what the other side sent: what is to be sent next, or null where it is refused. */
  take(message: Extract<RecordMessage, { kind: 'commitment' | 'nonce' }>): readonly RecordMessage[] | null {
    const stepped = this.#state === null ? null : stepPhrase(this.#state, message);
    if (stepped === null || !stepped.ok) return null;
    this.#state = stepped.value.state;
    this.#words = phraseOf(this.#state);
    return stepped.value.send;
  }
}
