import { CONSULT_VERSION, type ConsultSide, type RecordMessage } from '../core/consult/messages.ts';
import type { LineParts } from './consult-parts.ts';

type Hello = Extract<RecordMessage, { kind: 'hello' }>;

/** What a greeting says of the other side: another version, another consult, the page that was there before, or a new one. */
type Greeted = 'other-version' | 'other-consult' | 'same-page' | 'new-page';

/** The first word of each side on a new link. */
export class LineGreeting {
  readonly #side: ConsultSide;
  readonly #parts: Pick<LineParts, 'hasVoice' | 'newId'>;
  readonly #pageId: string;
  #otherPageId: string | null = null;
  #isSaid = false;
  #capabilities = $state.raw<readonly string[]>([]);

  constructor(side: ConsultSide, parts: Pick<LineParts, 'hasVoice' | 'newId'>) {
    this.#side = side;
    this.#parts = parts;
    this.#pageId = parts.newId();
  }

  /** What the other side's machine can do. */
  get capabilities(): readonly string[] {
    return this.#capabilities;
  }

  /** On a new link it is to be said again. */
  forget(): void {
    this.#isSaid = false;
  }

  /** The greeting; null when it was said on this link. received: entries of the other side that this one has. */
  say(consultId: string, received: number): Hello | null {
    if (this.#isSaid) return null;
    this.#isSaid = true;
    return {
      kind: 'hello',
      version: CONSULT_VERSION,
      side: this.#side,
      consultId,
      pageId: this.#pageId,
      capabilities: this.#parts.hasVoice() ? ['voice'] : [],
      received,
    };
  }

  /** Takes the other side's greeting in a consult. */
  take({ version, consultId, pageId, capabilities }: Hello, ownConsultId: string | null): Greeted {
    if (version !== CONSULT_VERSION) return 'other-version';
    if (consultId !== ownConsultId) return 'other-consult';
    const isNew = this.#otherPageId !== null && this.#otherPageId !== pageId;
    this.#otherPageId = pageId;
    this.#capabilities = capabilities;
    return isNew ? 'new-page' : 'same-page';
  }
}
