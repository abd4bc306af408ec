import { readRecord, type RecordProblem } from '../core/session/migrations.ts';
import type { SessionHeader, SessionRecord } from '../core/session/session-record.ts';
import type { SessionListing, SessionStore, StorageUsage } from '../core/session/session-store.ts';
import { shortRoomBytes } from '../core/session/storage-room.ts';
import type { StorageProblem } from '../core/stored.ts';
import type { StorageCare } from './storage-care.svelte.ts';

/** What went wrong on the shelf: with keeping, or with a file that was to be read. */
export type ShelfProblem =
  | { readonly about: 'storage'; readonly problem: StorageProblem }
  | { readonly about: 'file'; readonly fileName: string; readonly problem: RecordProblem }
  /** The file's session is on the shelf already, and is never overwritten. */
  | { readonly about: 'kept-already'; readonly fileName: string; readonly sessionId: string }
  /** A session that cannot be read can be deleted, but not brought back. */
  | { readonly about: 'cannot-undo'; readonly sessionId: string };

/** The sessions that are kept on this machine: the list, the room they take, taking in, deleting and bringing back. */
export class Shelf {
  readonly #store: SessionStore;
  /** Backup, checks and repair, loaded when they are asked for; null where nothing lasts. */
  readonly loadCare: (() => Promise<StorageCare>) | null;
  #listings = $state.raw<readonly SessionListing[] | null>(null);
  /** While the list is made anew, how much of it is done, 0 to 1; else null. */
  #listingShare = $state<number | null>(null);
  #unfinished = $state.raw<readonly SessionListing[]>([]);
  #usage = $state.raw<StorageUsage | null>(null);
  #problem = $state.raw<ShelfProblem | null>(null);
  #deleted = $state.raw<SessionRecord | null>(null);
  #looked = 0;

  constructor(store: SessionStore, loadCare: Shelf['loadCare'] = null) {
    this.#store = store;
    this.loadCare = loadCare;
  }

  /** All kept sessions, the newest first; null until they were looked up. */
  get listings(): readonly SessionListing[] | null {
    return this.#listings;
  }

  get listingShare(): number | null {
    return this.#listingShare;
  }

  /** The sessions that broke off, the newest first, as last looked up. */
  get unfinished(): readonly SessionListing[] {
    return this.#unfinished;
  }

  get usage(): StorageUsage | null {
    return this.#usage;
  }

  /** Bytes left where that is so little that it should be said before anything is recorded; else null. */
  get shortBytes(): number | null {
    return this.#usage === null || this.lastsThisVisitOnly ? null : shortRoomBytes(this.#usage);
  }

  get problem(): ShelfProblem | null {
    return this.#problem;
  }

  /** What was deleted last and can still be brought back. */
  get deleted(): SessionHeader | null {
    return this.#deleted;
  }

  /** True where the browser lets nothing be kept beyond this visit. */
  get lastsThisVisitOnly(): boolean {
    return this.#store.lasts === 'this-visit';
  }

  /** Looks up the list and the room taken; asked for again meanwhile, the later one wins. */
  async look(): Promise<void> {
    const looked = ++this.#looked;
    const isWanted = (): boolean => this.#looked === looked;
    const onProgress = (share: number): void => {
      if (isWanted()) this.#listingShare = share;
    };
    const [listed, used] = await Promise.all([
      this.#store.listSessions(onProgress, isWanted),
      this.#store.usage(),
    ]);
    if (!isWanted()) return;
    this.#listingShare = null;
    if (listed.ok) {
      this.#listings = listed.value;
      this.#unfinished = listed.value.filter(({ state }) => state === 'unfinished');
    } else this.#fail(listed.problem);
    this.#usage = used.ok ? used.value : null;
  }

  /** Gives up looking: whoever left the list for something else is not to wait for it. */
  stopLooking(): void {
    this.#looked += 1;
    this.#listingShare = null;
  }

  /** Looks up only the sessions that broke off: quick, however many are kept. */
  async lookForUnfinished(): Promise<void> {
    const found = await this.#store.unfinished();
    if (found.ok) this.#unfinished = found.value;
    else this.#fail(found.problem);
  }

  /** Looks up only the room taken, before something is recorded. */
  async lookForRoom(): Promise<void> {
    const used = await this.#store.usage();
    this.#usage = used.ok ? used.value : null;
  }

  /** Deletes a session at once; it can be brought back until the next deletion or the end of the visit. */
  async remove(sessionId: string): Promise<boolean> {
    const loaded = await this.#store.loadSession(sessionId);
    if (!loaded.ok) {
      if (loaded.problem === 'unreadable') this.#problem = { about: 'cannot-undo', sessionId };
      else this.#fail(loaded.problem);
      return false;
    }
    return this.#delete(sessionId, loaded.value);
  }

  /** Deletes a session that cannot be read, for good. */
  async removeForGood(sessionId: string): Promise<boolean> {
    return this.#delete(sessionId, null);
  }

  async #delete(sessionId: string, copy: SessionRecord | null): Promise<boolean> {
    const gone = await this.#store.deleteSession(sessionId);
    if (!gone.ok) {
      this.#fail(gone.problem);
      return false;
    }
    this.#problem = null;
    this.#deleted = copy;
    await this.look();
    return true;
  }

  /** Brings back what was deleted last. */
  async undo(): Promise<void> {
    if (this.#deleted === null) return;
    const kept = await this.#store.importRecord(this.#deleted);
    if (kept.ok) this.#deleted = null;
    else this.#fail(kept.problem);
    await this.look();
  }

  /** Lets go of what was deleted last. */
  letGo(): void {
    this.#deleted = null;
  }

  /** Ends a session that broke off, so that it can be looked at like any other. */
  async finish(sessionId: string): Promise<boolean> {
    const finished = await this.#store.finishSession(sessionId);
    if (!finished.ok) this.#fail(finished.problem);
    await (this.#listings === null ? this.lookForUnfinished() : this.look());
    return finished.ok;
  }

  /** Takes in the text of a record file. Gives the session's id, or null when it could not be taken in. */
  async takeIn(fileName: string, text: string): Promise<string | null> {
    this.#problem = null;
    const reading = readRecord(text);
    if (!reading.ok) {
      this.#problem = { about: 'file', fileName, problem: reading.problem };
      return null;
    }
    const kept = await this.#store.importRecord(reading.record);
    if (!kept.ok) {
      if (kept.problem === 'already-kept') {
        this.#problem = { about: 'kept-already', fileName, sessionId: reading.record.id };
      } else this.#fail(kept.problem);
      return null;
    }
    await this.look();
    return reading.record.id;
  }

  /** Puts a sentence about a problem away. */
  dismiss(): void {
    this.#problem = null;
  }

  #fail(problem: StorageProblem): void {
    this.#problem = { about: 'storage', problem };
  }
}
