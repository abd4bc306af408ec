import type { PackageFolder } from '../core/exchange/package-folder.ts';
import type { TakingIn } from './taking-in.svelte.ts';

/** Lets the person choose a folder; null where they choose none. */
export type ChooseFolder = () => Promise<PackageFolder | null>;

/** How often the folder is looked at. Common practice, no source. */
const LOOK_EVERY_MS = 5000;

/** A folder whose new packages are taken in for as long as the page is open. */
export class FolderWatch {
  readonly #choose: ChooseFolder | null;
  readonly #takingIn: TakingIn;
  #folder = $state.raw<PackageFolder | null>(null);
  #isLost = $state(false);
  #timer: ReturnType<typeof setTimeout> | null = null;

  constructor(choose: ChooseFolder | null, takingIn: TakingIn) {
    this.#choose = choose;
    this.#takingIn = takingIn;
  }

  /** False where the browser lets no page read a folder. */
  get canWatch(): boolean {
    return this.#choose !== null;
  }

  /** The name of the folder that is watched, or null. */
  get watched(): string | null {
    return this.#folder?.name ?? null;
  }

  /** True when the folder that was watched can be read no longer. */
  get isLost(): boolean {
    return this.#isLost;
  }

  /** Lets the person choose a folder and takes in what is in it, now and for as long as the page is open. */
  async choose(): Promise<void> {
    const folder = await this.#choose?.();
    if (!folder) return;
    this.stop();
    this.#folder = folder;
    await this.#look(folder);
  }

  /** Watches no folder any more. */
  stop(): void {
    if (this.#timer !== null) clearTimeout(this.#timer);
    this.#timer = null;
    this.#folder = null;
    this.#isLost = false;
  }

  async #look(folder: PackageFolder): Promise<void> {
    try {
      const files = await folder.newFiles();
      if (files.length > 0) await this.#takingIn.take(files);
    } catch {
      // Moved, deleted, or the browser took the permission back.
      if (this.#folder === folder) {
        this.stop();
        this.#isLost = true;
      }
      return;
    }
    if (this.#folder === folder) this.#timer = setTimeout(() => void this.#look(folder), LOOK_EVERY_MS);
  }
}
