import { bytesOfBase64 } from '../documents/base64.ts';
import type { ExchangeStore } from '../exchange/exchange-store.ts';
import type { Preferences } from '../session/preferences.ts';
import type { VideoStore } from '../session/video-store.ts';
import type { Stored, StorageProblem } from '../stored.ts';
import {
  readLine,
  type BackupCounts,
  type BackupHead,
  type BackupItem,
  type BackupLine,
  type BackupProblem,
} from './backup-lines.ts';
import { restoreItem, type RestoreOutcome, type RestoreTargets } from './restore.ts';
import { restoreBeside } from './restore-beside.ts';
import { restoreVideo } from './restore-video.ts';
import type { Watch } from './store-care.ts';

/** Thrown inside reading a backup and turned into a value at its border. */
export class BackupRefused extends Error {
  readonly problem: BackupProblem;

  constructor(problem: BackupProblem) {
    super(`The backup is refused: ${problem.kind}.`);
    this.problem = problem;
  }
}

/** What a backup holds, known once all of it has been read. */
export interface BackupContent {
  readonly head: BackupHead;
  readonly counts: BackupCounts;
}

/** A backup that was read to its end, or why it is not taken in. */
export type BackupReading =
  | { readonly ok: true; readonly content: BackupContent }
  | { readonly ok: false; readonly problem: BackupProblem };

/**
 * Reads a whole backup through its gates without keeping anything, so that nothing of a damaged one is taken in. onLine
 * hears how many lines were read.
 */
export async function readBackup(
  lines: AsyncIterable<string>,
  watch: Pick<Watch, 'isCancelled'>,
): Promise<BackupReading> {
  try {
    let head: BackupHead | null = null;
    const counts: Partial<Record<BackupItem['kind'], number>> = {};
    for await (const line of linesRead(lines)) {
      if (watch.isCancelled()) throw new BackupRefused({ kind: 'cancelled' });
      if (line.kind === 'head') head = line.head;
      else if (line.kind === 'item') counts[line.item.kind] = (counts[line.item.kind] ?? 0) + 1;
    }
    return head === null ? refused({ kind: 'not-ours' }) : { ok: true, content: { head, counts } };
  } catch (error) {
    if (error instanceof BackupRefused) return refused(error.problem);
    throw error;
  }
}

/** The lines of a backup, checked: the head first, the end last, and as many of each kind as the end says. */
async function* linesRead(lines: AsyncIterable<string>): AsyncGenerator<BackupLine> {
  const counts = new Map<string, number>();
  let lineNumber = 0;
  let isEnded = false;
  for await (const text of lines) {
    lineNumber += 1;
    if (isEnded) throw new BackupRefused({ kind: 'cut-or-changed' });
    const read = readLine(text, lineNumber);
    if (!read.ok) throw new BackupRefused(read.problem);
    const { line } = read;
    if (line.kind === 'item') counts.set(line.item.kind, (counts.get(line.item.kind) ?? 0) + 1);
    if (line.kind === 'end') {
      const said = Object.entries(line.counts);
      if (said.length !== counts.size || said.some(([kind, count]) => counts.get(kind) !== count))
        throw new BackupRefused({ kind: 'cut-or-changed' });
      isEnded = true;
    }
    yield line;
  }
  if (!isEnded) throw new BackupRefused({ kind: lineNumber === 0 ? 'not-ours' : 'cut-or-changed' });
}

/** Where everything of a backup goes. */
export interface BackupTargets extends RestoreTargets {
  /** Null where videos cannot be kept. */
  readonly videos: VideoStore | null;
  readonly exchange: ExchangeStore;
  /** Opens the file of a key with the passphrase that was given and keeps it; "locked" where it does not open. */
  takeKey(file: Blob): Promise<Stored<RestoreOutcome>>;
  /** Takes the preferences over where none were chosen here yet; says whether it did. */
  takePreferences(preferences: Preferences): RestoreOutcome;
}

/** How many items had which outcome. */
type RestoreCounts = Readonly<Record<RestoreOutcome, number>>;

/** What restoring did. stopped: what it was up to then is kept, and doing it again goes on from there. */
export interface RestoreReport {
  readonly counts: RestoreCounts;
  readonly stopped: StorageProblem | 'cancelled' | null;
}

/**
 * Takes a backup in that readBackup has accepted, one item at a time. Stops at the first failure of the store: everything
 * up to it is kept, and doing the same again adds only the rest. Rejects with BackupRefused when the file is not what was
 * accepted.
 */
export async function takeInBackup(
  lines: AsyncIterable<string>,
  { content, targets, watch }: { content: BackupContent; targets: BackupTargets; watch: Watch },
): Promise<RestoreReport> {
  const counts = { added: 0, same: 0, 'kept-both': 0, left: 0, locked: 0 };
  const total = Object.values(content.counts).reduce((sum, count) => sum + count, 0);
  const parts = { video: restoreVideo(targets.videos), beside: restoreBeside(targets.exchange) };
  let done = 0;
  const count = (stored: Stored<RestoreOutcome | null>): StorageProblem | null => {
    if (!stored.ok) return stored.problem;
    if (stored.value !== null) counts[stored.value] += 1;
    return null;
  };
  for await (const line of linesRead(lines)) {
    if (watch.isCancelled()) return { counts, stopped: 'cancelled' };
    if (line.kind === 'head') continue;
    watch.onShare(done++ / Math.max(1, total));
    const { kind } = line;
    const goesOn = kind === 'item' && line.item.kind.endsWith('-bytes');
    const problem =
      (goesOn ? null : (count(await parts.video.end()) ?? count(await parts.beside.end()))) ??
      (kind === 'end' ? null : count(await restoreOne(line.item, targets, parts)));
    if (problem !== null) return { counts, stopped: problem };
  }
  return { counts, stopped: null };
}

async function restoreOne(
  item: BackupItem,
  targets: BackupTargets,
  parts: {
    readonly video: ReturnType<typeof restoreVideo>;
    readonly beside: ReturnType<typeof restoreBeside>;
  },
): Promise<Stored<RestoreOutcome | null>> {
  switch (item.kind) {
    case 'preferences':
      return { ok: true, value: targets.takePreferences(item.value) };
    case 'key':
      return targets.takeKey(new Blob([bytesOfBase64(item.value)]));
    case 'video':
      return parts.video.begin(item.value);
    case 'video-bytes':
      return parts.video.bytes(item.value);
    case 'beside':
      return parts.beside.begin(item.value);
    case 'beside-bytes':
      return parts.beside.bytes(item.value);
    default:
      return restoreItem(item, targets);
  }
}

function refused(problem: BackupProblem): BackupReading {
  return { ok: false, problem };
}
