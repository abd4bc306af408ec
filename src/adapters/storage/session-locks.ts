/** What a session is held for: it is being recorded, or it was deleted and can still be brought back. */
type HeldFor = 'recording' | 'deleted';

/**
 * Tells what another tab still does with a session from what was broken off: whoever does it holds a lock, which
 * the browser lets go when the tab ends, however it ends. Where the browser has no locks, only this tab's are known.
 */
export class SessionLocks {
  readonly #prefix: string;
  readonly #releases = new Map<string, () => void>();

  constructor(heldFor: HeldFor) {
    this.#prefix = `forearmed-${heldFor}:`;
  }

  /** Holds the lock of a session until release; settles when it is held or cannot be. */
  hold(sessionId: string): Promise<void> {
    if (this.#releases.has(sessionId)) return Promise.resolve();
    return new Promise((held) => {
      const until = new Promise<void>((release) => this.#releases.set(sessionId, release));
      if (!('locks' in navigator)) return held();
      navigator.locks
        .request(this.#prefix + sessionId, { ifAvailable: true }, () => {
          held();
          return until;
        })
        .catch(() => held());
    });
  }

  /** Lets go of a session's lock, if it is held here. */
  release(sessionId: string): void {
    this.#releases.get(sessionId)?.();
    this.#releases.delete(sessionId);
  }

  /** The sessions that are held now, in this tab or in another. */
  async held(): Promise<ReadonlySet<string>> {
    const here = [...this.#releases.keys()];
    if (!('locks' in navigator)) return new Set(here);
    const { held = [] } = await navigator.locks.query();
    const prefix = this.#prefix;
    const names = held.flatMap(({ name }) => (name?.startsWith(prefix) ? name.slice(prefix.length) : []));
    return new Set([...here, ...names]);
  }
}
