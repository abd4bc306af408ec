import type { BackupCounts, BackupItem, BackupProblem } from '../backup/backup-lines.ts';
import type { RestoreReport } from '../backup/take-in-backup.ts';
import type { StoreFindings } from '../backup/store-care.ts';
import { storageSentence } from './storage-problems.ts';

const KINDS: Readonly<Partial<Record<BackupItem['kind'], readonly [string, string]>>> = {
  record: ['session', 'sessions'],
  plan: ['version of a plan', 'versions of plans'],
  day: ['training day', 'training days'],
  decision: ['decision', 'decisions'],
  review: ['review', 'reviews'],
  video: ['video', 'videos'],
  key: ['locked key', 'locked keys'],
  beside: ['thing kept beside another of its name', 'things kept beside others of their names'],
  aside: ['part that could not be read', 'parts that could not be read'],
};

/** Why a file is not restored, and what to do about it. */
export function backupSentence(problem: BackupProblem): string {
  switch (problem.kind) {
    case 'not-ours':
      return 'This file is not a backup. Choose a file whose name ends in .backup.jsonl.gz. Nothing was changed.';
    case 'newer-version':
      return `This backup was made by a newer version (backup version ${problem.version}; up to ${problem.readableVersion} can be read here). Update this program and restore it again. Nothing was changed.`;
    case 'cut-or-changed':
      return 'This backup is cut short or was changed since it was made, and is not restored. Get it again from where you kept it. Nothing was changed.';
    case 'too-long':
      return 'Something in this file is far too large for a backup, and it is not restored. Get it again from where you kept it. Nothing was changed.';
    case 'damaged':
      return `Line ${problem.line} of this backup cannot be right, and it is not restored. Get it again from where you kept it. Nothing was changed.`;
    case 'cancelled':
      return 'Reading the backup was cancelled. Nothing was changed.';
  }
}

/** What there is, as it is read: "12 sessions, 3 training days". */
export function countsWords(counts: BackupCounts): string {
  const words = Object.entries(KINDS).flatMap(([kind, [one, many]]) => {
    const count = counts[kind as BackupItem['kind']] ?? 0;
    return count === 0 ? [] : [`${count} ${count === 1 ? one : many}`];
  });
  return words.length === 0 ? 'nothing but your settings' : words.join(', ');
}

/** What restoring did. */
export function restoredSentence({ counts, stopped }: RestoreReport): string {
  const done = [
    `${counts.added} added`,
    `${counts.same} already here`,
    ...(counts['kept-both'] > 0
      ? [`${counts['kept-both']} differed from what is here, and both are kept`]
      : []),
    ...(counts.locked > 0
      ? [
          `${counts.locked === 1 ? '1 key' : `${counts.locked} keys`} left out, because the passphrase is missing or wrong`,
        ]
      : []),
    ...(counts.left > 0 ? [`${counts.left} left as they are here`] : []),
  ].join(', ');
  const withKeys =
    counts.locked > 0 ? ' Restore the same file again with the passphrase to get the keys.' : '';
  if (stopped === null) return `Restored: ${done}. Nothing was overwritten.${withKeys}`;
  const why = stopped === 'cancelled' ? 'Restoring was cancelled.' : storageSentence(stopped);
  return `${why} So far: ${done}. Restore the same file again to go on; nothing is taken in twice.`;
}

/** What a check found. */
export function findingsSentence({ counts, troubles, isThorough }: StoreFindings): string {
  const looked = `${counts.sessions === 1 ? '1 session' : `${counts.sessions} sessions`}${isThorough ? ', every part read' : ''}`;
  if (troubles.length === 0) return `Checked: ${looked}. Everything fits together.`;
  const unreadable = troubles.filter(({ kind }) => kind === 'unreadable').length;
  const alone = troubles.length - unreadable;
  const found = [
    ...(unreadable > 0 ? [`${unreadable} cannot be read`] : []),
    ...(alone > 0 ? [`${alone} ${alone === 1 ? 'belongs' : 'belong'} to nothing that is kept`] : []),
  ].join(', ');
  const keys = troubles.some(({ table }) => table === 'keys')
    ? ' A key is among them: what you then download may hold it openly, so keep that to yourself; backups leave it out. Take in its saved key file again.'
    : '';
  return `Checked: ${looked}. ${found}. They are shown nowhere. Set them aside: they can be downloaded, and nothing of them is thrown away.${keys}`;
}
