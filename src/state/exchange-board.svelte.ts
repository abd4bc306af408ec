import type { Eraser, ErasedRows } from '../core/exchange/eraser.ts';
import { contentsOf, type Whose } from '../core/exchange/person-contents.ts';
import type { StorageProblem } from '../core/stored.ts';
import { FolderWatch, type ChooseFolder } from './folder-watch.svelte.ts';
import { KeptBesideList } from './kept-beside.svelte.ts';
import { KeyRing } from './key-ring.svelte.ts';
import { Sending, type SendingParts } from './sending.svelte.ts';
import { TakingIn } from './taking-in.svelte.ts';

/** What exchange needs from outside. */
export interface ExchangeParts extends SendingParts {
  /** Null where nothing lasts: closing the page erases everything. */
  readonly eraser: Eraser | null;
  /** Null where the browser lets no page read a folder. */
  readonly chooseFolder: ChooseFolder | null;
  /** Told when something came or was erased: lists and the followed plan look again. */
  readonly onchanged: () => void;
}

/** Sending, taking in, keys, what came beside another of its name, and erasing: one for the whole visit. */
export class ExchangeBoard {
  readonly sending: Sending;
  readonly takingIn: TakingIn;
  readonly keys: KeyRing;
  readonly beside: KeptBesideList;
  readonly folder: FolderWatch;
  readonly #parts: ExchangeParts;
  #erased = $state.raw<{ readonly label: string; readonly rows: ErasedRows } | null>(null);
  #problem = $state.raw<StorageProblem | 'recording' | null>(null);

  constructor(parts: ExchangeParts) {
    const { sealing, stores, moment, onchanged, chooseFolder } = parts;
    this.#parts = parts;
    this.sending = new Sending(parts);
    this.keys = new KeyRing(stores.exchange, sealing);
    this.beside = new KeptBesideList(stores, moment, onchanged);
    const ontaken = (): void => {
      onchanged();
      void this.look();
    };
    this.takingIn = new TakingIn({ sealing, stores, moment, ontaken });
    this.folder = new FolderWatch(chooseFolder, this.takingIn);
  }

  /** Looks everything up. planId: whose things are sent; null leaves that as it was. */
  async look(planId: string | null = null): Promise<void> {
    await Promise.all([this.sending.look(planId), this.keys.look(), this.beside.look()]);
  }

  /** False where nothing lasts: closing the page erases everything. */
  get canErase(): boolean {
    return this.#parts.eraser !== null;
  }

  /** Whose things were erased last and can still be brought back. */
  get erasedLabel(): string | null {
    return this.#erased?.label ?? null;
  }

  /** Why erasing or bringing back failed; recording: a session of theirs is being recorded. */
  get problem(): StorageProblem | 'recording' | null {
    return this.#problem;
  }

  /** Erases everything of a person; it can be brought back until the next erasing or the end of the visit. */
  async erase(whose: Whose, label: string): Promise<void> {
    const { eraser, stores, onchanged } = this.#parts;
    if (eraser === null) return;
    const contents = await contentsOf(whose, stores);
    if (contents.ok && contents.value.sessions.some(({ state }) => state === 'recording')) {
      this.#problem = 'recording';
      return;
    }
    const erased = contents.ok ? await eraser.erase(contents.value) : contents;
    this.#problem = erased.ok ? null : erased.problem;
    if (erased.ok) this.#erased = { label, rows: erased.value };
    onchanged();
    await this.sending.forget();
    await this.look();
  }

  /** Brings back what was erased last. */
  async undoErase(): Promise<void> {
    const { eraser, onchanged } = this.#parts;
    if (eraser === null || this.#erased === null) return;
    const back = await eraser.putBack(this.#erased.rows);
    this.#problem = back.ok ? null : back.problem;
    if (back.ok) this.#erased = null;
    onchanged();
    await this.look();
  }

  /** Lets go of what was erased last: now it is gone. */
  letGo(): void {
    this.#erased = null;
  }
}
