import type { ItemKind } from '../exchange/manifest.ts';
import type { PackageFile } from '../exchange/package-items.ts';
import type { Lock } from '../exchange/sealing.ts';
import type { Taken } from '../exchange/take-item.ts';
import { shortKey } from './key-words.ts';

const NOUNS: Readonly<Record<ItemKind, readonly [one: string, many: string]>> = {
  plan: ['version of the plan', 'versions of the plan'],
  decision: ['decision', 'decisions'],
  day: ['training day with its answers', 'training days with their answers'],
  record: [
    'session record: landmarks and figures, no picture',
    'session records: landmarks and figures, no picture',
  ],
  review: ['review', 'reviews'],
  video: ['video, on which the person can be seen', 'videos, on which the person can be seen'],
  table: ['table for a spreadsheet', 'tables for a spreadsheet'],
};

/** What something that came is called in a list. */
export function kindWord(kind: ItemKind): string {
  return NOUNS[kind][0].replace(/[:,].*$/, '');
}

/** What a package holds, a line for each kind with its size, the largest kind of thing not first but in order of the plan. */
export function contentLines(
  files: readonly PackageFile[],
): { readonly kind: ItemKind; readonly words: string; readonly bytes: number }[] {
  const kinds: readonly ItemKind[] = ['plan', 'decision', 'day', 'record', 'review', 'video', 'table'];
  return kinds.flatMap((kind) => {
    const of = files.filter(({ entry }) => entry.kind === kind);
    if (of.length === 0) return [];
    const words = `${of.length} ${NOUNS[kind][of.length === 1 ? 0 : 1]}`;
    return [{ kind, words, bytes: of.reduce((sum, { content }) => sum + content.size, 0) }];
  });
}

/** Who will be able to read a package. */
export function whoCanRead(lock: Lock['kind'], therapistKey: string | null): string {
  if (lock === 'key' && therapistKey !== null)
    return `Only whoever has the secret key to ${shortKey(therapistKey)}, the therapist's key in the plan, can read it. You yourself cannot open it again; everything in it stays here as well.`;
  if (lock === 'passphrase')
    return 'Whoever has the file and the passphrase can read it. Tell the passphrase by another way than the file.';
  return 'Whoever gets the file can read it: it is not locked. Any program opens it.';
}

/** The label of whoever it is, and what became of a package that was taken in. */
export function takenSentence(
  label: string,
  counts: Readonly<Record<Taken, number>>,
  unreadable: number,
): string {
  const came = [
    counts.new > 0 ? `${counts.new} new` : '',
    counts.renewed > 0 ? `${counts.renewed} renewed, because the package tells more` : '',
    counts.same > 0 ? `${counts.same} kept here already` : '',
  ].filter((part) => part !== '');
  const nothing = counts.new + counts.renewed + counts.beside === 0 && unreadable === 0;
  return [
    `${label}: ${nothing && counts.same > 0 ? 'everything in it is kept here already; nothing changed.' : `${came.join(', ') || 'nothing that is kept here'}.`}`,
    counts.beside > 0 ? besideSentence(counts.beside) : '',
    counts['not-kept'] > 0
      ? `${counts['not-kept'] === 1 ? '1 video was' : `${counts['not-kept']} videos were`} left out, because this browser keeps nothing for this page.`
      : '',
    unreadable > 0
      ? `${unreadable === 1 ? '1 thing' : `${unreadable} things`} in it could not be read and ${unreadable === 1 ? 'was' : 'were'} left out: damaged, or made by a newer version. Update this program, or get the package again.`
      : '',
  ]
    .filter((sentence) => sentence !== '')
    .join(' ');
}

function besideSentence(count: number): string {
  return count === 1
    ? '1 thing has the name of something that is kept here and says something else: both are kept, the one that came under "Kept beside".'
    : `${count} things have the names of others that are kept here and say something else: all are kept, those that came under "Kept beside".`;
}
