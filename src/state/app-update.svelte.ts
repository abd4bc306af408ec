/** What watches for new versions of the app and brings them in; handed in by main.ts. */
export interface AppVersions {
  /** Calls `listener` when a new version is ready and waits. */
  onWaiting(listener: () => void): void;
  /** Tells this browser's other windows whether a session is under way here. */
  holdSession(isHeld: boolean): void;
  /**
   * Loads the page again with the new version, and then does not return; or says what is in the way: 'other-window' when
   * a session is under way in another window, 'none-waits' when there is no new version after all.
   */
  takeOver(): Promise<'other-window' | 'none-waits'>;
}

/** A new version of the app: it is offered between sessions only, and nothing happens until it is taken. */
export class AppUpdate {
  readonly #versions: AppVersions;
  #isWaiting = $state(false);
  #isSession = $state(false);
  #problem = $state<string | null>(null);

  constructor(versions: AppVersions) {
    this.#versions = versions;
    versions.onWaiting(() => {
      this.#isWaiting = true;
    });
  }

  /** True when a new version may be offered now. */
  get isOffered(): boolean {
    return this.#isWaiting && !this.#isSession;
  }

  /** Why the new version could not be taken, or null. */
  get problem(): string | null {
    return this.#problem;
  }

  /** Is told whenever a source begins or ends to run here, or a set is still to be finished. */
  noteSession(isSession: boolean): void {
    this.#isSession = isSession;
    this.#versions.holdSession(isSession);
  }

  /** Takes the new version: the page is loaded again. */
  async take(): Promise<void> {
    if (!this.isOffered) return;
    this.#problem = null;
    const obstacle = await this.#versions.takeOver();
    if (obstacle === 'none-waits') this.#isWaiting = false;
    else
      this.#problem = 'A session is under way in another window of Forearmed. End it there, then try again.';
  }
}
