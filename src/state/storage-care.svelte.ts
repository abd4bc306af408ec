import {
  endLine,
  headLine,
  itemLine,
  type BackupCounts,
  type BackupHead,
  type BackupItem,
  type BackupProblem,
} from '../core/backup/backup-lines.ts';
import type { StoreCare, StoreFindings, Watch } from '../core/backup/store-care.ts';
import type { RestoreOutcome } from '../core/backup/restore.ts';
import {
  BackupRefused,
  readBackup,
  takeInBackup,
  type BackupContent,
  type BackupTargets,
  type RestoreReport,
} from '../core/backup/take-in-backup.ts';
import { base64Of } from '../core/documents/base64.ts';
import type { Sealing } from '../core/exchange/sealing.ts';
import { isSameValue } from '../core/plan/same-value.ts';
import { preferencesSchema } from '../core/session/preferences.ts';
import type { StorageProblem, Stored } from '../core/stored.ts';
import type { Settings } from './settings.svelte.ts';

/** What looking after the store needs from outside. */
export interface StorageCareParts {
  readonly care: StoreCare;
  readonly targets: Pick<BackupTargets, 'sessions' | 'plans' | 'reviews' | 'videos' | 'exchange'>;
  /** Locks and opens the files of keys; begins its worker with the first. */
  readonly loadSealing: () => Promise<Pick<Sealing, 'keyFile' | 'openKeyFile'>>;
  readonly settings: Settings;
  readonly files: {
    packLines(lines: AsyncIterable<string>): Promise<Blob>;
    unpackLines(file: Blob): AsyncIterable<string>;
  };
  /** Asks the browser not to clear the store by itself; null where it cannot be asked. */
  readonly persist: () => Promise<boolean | null>;
  readonly moment: () => string;
  readonly software: BackupHead['software'];
}

/** What goes on: what it is called, and how far it is, 0 to 1; null while that is unknown. */
export interface CareWork {
  readonly what: 'checking' | 'setting-aside' | 'packing' | 'reading' | 'restoring';
  readonly share: number | null;
}

/** What came of it last. */
export type CareResult =
  | { readonly of: 'check'; readonly findings: StoreFindings }
  | { readonly of: 'repair'; readonly count: number }
  | { readonly of: 'read'; readonly fileName: string; readonly content: BackupContent }
  | { readonly of: 'restore'; readonly report: RestoreReport }
  | { readonly of: 'refused'; readonly fileName: string; readonly problem: BackupProblem }
  | { readonly of: 'failed'; readonly problem: StorageProblem }
  | { readonly of: 'persist'; readonly granted: boolean | null };

/** Backup, restoring, checks and repair of everything that is kept on this machine. One thing at a time. */
export class StorageCare {
  readonly #parts: StorageCareParts;
  #work = $state.raw<CareWork | null>(null);
  #result = $state.raw<CareResult | null>(null);
  #aside = $state(0);
  #keyCount = $state(0);
  #chosen: { readonly file: Blob; readonly content: BackupContent } | null = null;
  #isCancelled = false;
  #isLooked = false;

  constructor(parts: StorageCareParts) {
    this.#parts = parts;
  }

  get work(): CareWork | null {
    return this.#work;
  }

  get result(): CareResult | null {
    return this.#result;
  }

  /** How many parts are set aside. */
  get aside(): number {
    return this.#aside;
  }

  /** How many keys for packages there are, as last looked up. */
  get keyCount(): number {
    return this.#keyCount;
  }

  /** Stops what goes on at its next step; what is done by then stays. */
  cancel(): void {
    this.#isCancelled = true;
  }

  /** Counts the keys and what is set aside. */
  async look(): Promise<void> {
    const pairs = await this.#parts.targets.exchange.keyPairs();
    this.#keyCount = pairs.ok ? pairs.value.length : 0;
    await this.#countAside();
  }

  /** The check of every visit, done once in it; of ten thousand sessions it holds others up. Says nothing when all fits. */
  async checkOnce(): Promise<void> {
    if (this.#work !== null || this.#isLooked) return;
    this.#isLooked = true;
    const watch = { onShare: () => undefined, isCancelled: () => false };
    const found = await this.#parts.care.check(false, watch);
    if (found.ok && found.value.troubles.length > 0) this.#result = { of: 'check', findings: found.value };
  }

  /** Reads every part of the store through its gate. */
  async check(): Promise<void> {
    await this.#do('checking', async (watch) => {
      const found = await this.#parts.care.check(true, watch);
      return found.ok ? { of: 'check', findings: found.value } : failedBy(found);
    });
  }

  /** Sets aside what the last check found. */
  async repair(): Promise<void> {
    if (this.#result?.of !== 'check') return;
    const { troubles } = this.#result.findings;
    await this.#do('setting-aside', async (watch) => {
      const done = await this.#parts.care.repair(troubles, this.#parts.moment(), watch);
      return done.ok ? { of: 'repair', count: done.value } : failedBy(done);
    });
    await this.#countAside();
  }

  /**
   * Everything in one file; null when it was cancelled or failed.
   * @param withVideos - whether the videos of sets go along
   * @param keyPassphrase - what the keys for packages are locked with; null leaves them out
   */
  async backUp(withVideos: boolean, keyPassphrase: string | null): Promise<Blob | null> {
    return this.#pack(this.#backupLines(withVideos, keyPassphrase));
  }

  /** What was set aside, one row of JSON a line, in one file. */
  async asideFile(): Promise<Blob | null> {
    const { care } = this.#parts;
    const lines = async function* (): AsyncGenerator<string> {
      for await (const row of care.asideRows()) yield JSON.stringify(row);
    };
    return this.#pack(lines());
  }

  /** Throws away what was set aside. To be offered only once it was downloaded. */
  async clearAside(): Promise<void> {
    const cleared = await this.#parts.care.clearAside();
    if (!cleared.ok) this.#result = failedBy(cleared);
    await this.#countAside();
  }

  /** Reads a backup file to its end without keeping anything; restore() takes it in. */
  async read(fileName: string, file: Blob): Promise<void> {
    this.#chosen = null;
    await this.#do('reading', async ({ isCancelled }) => {
      const reading = await readBackup(this.#parts.files.unpackLines(file), { isCancelled });
      if (!reading.ok) return { of: 'refused', fileName, problem: reading.problem };
      this.#chosen = { file, content: reading.content };
      return { of: 'read', fileName, content: reading.content };
    });
  }

  /**
   * Takes in the backup that was read last.
   * @param keyPassphrase - opens the keys in it; null leaves them locked
   */
  async restore(keyPassphrase: string | null = null): Promise<void> {
    const chosen = this.#chosen;
    if (chosen === null) return;
    await this.#do('restoring', async (watch) => {
      const lines = this.#parts.files.unpackLines(chosen.file);
      const { content } = chosen;
      return {
        of: 'restore',
        report: await takeInBackup(lines, { content, targets: this.#targets(keyPassphrase), watch }),
      };
    });
    await this.#countAside();
  }

  /** Asks the browser not to clear the store by itself. */
  async persist(): Promise<void> {
    this.#result = { of: 'persist', granted: await this.#parts.persist() };
  }

  /** Puts the last result away. */
  dismiss(): void {
    this.#result = null;
  }

  async *#backupLines(withVideos: boolean, keyPassphrase: string | null): AsyncGenerator<string> {
    const { care, settings, moment, software } = this.#parts;
    const locked = keyPassphrase === null ? [] : await this.#lockedKeys(keyPassphrase);
    const known = await care.counts();
    const total = known.ok ? sum(known.value) : 0;
    const counts: Partial<Record<BackupItem['kind'], number>> = { preferences: 1 };
    yield headLine(moment(), software);
    yield itemLine({ kind: 'preferences', value: settings.now });
    if (locked.length > 0) counts.key = locked.length;
    for (const value of locked) yield itemLine({ kind: 'key', value });
    let done = 0;
    for await (const item of care.items(withVideos)) {
      if (this.#isCancelled) throw new BackupRefused({ kind: 'cancelled' });
      this.#work = { what: 'packing', share: total === 0 ? null : Math.min(1, done++ / total) };
      counts[item.kind] = (counts[item.kind] ?? 0) + 1;
      yield itemLine(item);
    }
    yield endLine(counts);
  }

  async #pack(lines: AsyncIterable<string>): Promise<Blob | null> {
    let file: Blob | null = null;
    await this.#do('packing', async () => {
      file = await this.#parts.files.packLines(lines);
      return null;
    });
    return file;
  }

  /** Every key as its file, locked with the passphrase, in base64. */
  async #lockedKeys(passphrase: string): Promise<string[]> {
    const { targets, loadSealing } = this.#parts;
    const pairs = await targets.exchange.keyPairs();
    if (!pairs.ok) throw new Error(pairs.detail);
    const sealing = await loadSealing();
    const files: string[] = [];
    for (const pair of pairs.value) {
      const file = await sealing.keyFile(pair, passphrase);
      files.push(base64Of(new Uint8Array(await file.arrayBuffer())));
    }
    return files;
  }

  async #takeKey(file: Blob, passphrase: string | null): Promise<Stored<RestoreOutcome>> {
    if (passphrase === null) return { ok: true, value: 'locked' };
    const { targets, loadSealing } = this.#parts;
    const pair = await (await loadSealing()).openKeyFile(file, passphrase);
    if (!('secretKey' in pair)) return { ok: true, value: 'locked' };
    const kept = await targets.exchange.keyPairs();
    if (!kept.ok) return kept;
    if (kept.value.some(({ publicKey }) => publicKey === pair.publicKey)) return { ok: true, value: 'same' };
    const added = await targets.exchange.keepKeyPair(pair);
    return added.ok ? { ok: true, value: 'added' } : added;
  }

  #targets(keyPassphrase: string | null): BackupTargets {
    const { care, targets, settings, moment } = this.#parts;
    const untilDone: Watch = { onShare: () => undefined, isCancelled: () => false };
    return {
      ...targets,
      takeKey: (file) => this.#takeKey(file, keyPassphrase),
      setSessionAside: (key) =>
        care.repair([{ table: 'sessions', key, kind: 'unreadable', detail: '' }], moment(), untilDone),
      setAside: (id, value) => care.setAside(id, value, moment()),
      takePreferences: (preferences) => {
        if (isSameValue(preferences, settings.now)) return 'same';
        if (!isSameValue(settings.now, preferencesSchema.parse({}))) return 'left';
        settings.change(preferences);
        return 'added';
      },
    };
  }

  async #countAside(): Promise<void> {
    const counted = await this.#parts.care.countAside();
    if (counted.ok) this.#aside = counted.value;
  }

  /** Does one thing at a time, and turns what is thrown into a result. */
  async #do(what: CareWork['what'], act: (watch: Watch) => Promise<CareResult | null>): Promise<void> {
    if (this.#work !== null) return;
    this.#isCancelled = false;
    this.#result = null;
    this.#work = { what, share: null };
    try {
      this.#result = await act({
        onShare: (share) => (this.#work = { what, share }),
        isCancelled: () => this.#isCancelled,
      });
    } catch (error) {
      if (this.#isCancelled) this.#result = null;
      else
        this.#result =
          error instanceof BackupRefused
            ? { of: 'refused', fileName: '', problem: error.problem }
            : { of: 'failed', problem: 'other' };
    }
    this.#work = null;
  }
}

function failedBy(stored: Extract<Stored<unknown>, { ok: false }>): CareResult {
  return { of: 'failed', problem: stored.problem };
}

function sum(counts: BackupCounts): number {
  return Object.values(counts).reduce((total, count) => total + count, 0);
}
