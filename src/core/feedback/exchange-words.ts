import type { ItemKind } from '../exchange/manifest.ts';
import type { PackageChoice } from '../exchange/package-choice.ts';
import type { PackageFile } from '../exchange/package-items.ts';
import type { Lock } from '../exchange/sealing.ts';
import type { Taken } from '../exchange/take-item.ts';
import { shortKey } from './key-words.ts';
import { listWords } from './safety-words.ts';

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

/** What a review is called in a package, by who reads it. */
const REVIEW_NOUNS: Readonly<Record<PackageChoice['reader'], readonly [one: string, many: string]>> = {
  therapist: [
    'review, whole: with notes and the reasons of corrections',
    'reviews, whole: with notes and the reasons of corrections',
  ],
  patient: ['signed answer, with what was corrected', 'signed answers, with what was corrected'],
};

/** What a package holds, a line for each kind with its size, the largest kind of thing not first but in order of the plan. */
export function contentLines(
  files: readonly PackageFile[],
  reader: PackageChoice['reader'],
): { readonly kind: ItemKind; readonly words: string; readonly bytes: number }[] {
  const kinds: readonly ItemKind[] = ['plan', 'decision', 'day', 'record', 'review', 'video', 'table'];
  return kinds.flatMap((kind) => {
    const of = files.filter(({ entry }) => entry.kind === kind);
    if (of.length === 0) return [];
    const nouns = kind === 'review' ? REVIEW_NOUNS[reader] : NOUNS[kind];
    const words = `${of.length} ${nouns[of.length === 1 ? 0 : 1]}`;
    return [{ kind, words, bytes: of.reduce((sum, { content }) => sum + content.size, 0) }];
  });
}

/**
 * What does not go along in a package for the patient.
 * @param unsigned - reviews of the chosen sessions that are begun and not signed
 */
export function staysHereWords({ withReasons, withRecords }: PackageChoice, unsigned: number): string {
  const stays = [
    'your notes',
    'angles measured by hand',
    'drawings at moments that the answer does not show',
    'withdrawn corrections',
    ...(withReasons ? [] : ['the reasons of corrections']),
    ...(withRecords ? [] : ['session records and training days']),
  ];
  const waiting =
    unsigned === 0
      ? ''
      : ` ${unsigned === 1 ? '1 review is' : `${unsigned} reviews are`} not signed, and ${unsigned === 1 ? 'its answer goes' : 'their answers go'} along only once you have signed.`;
  return `Stays here: ${listWords(stays)}.${waiting} Decisions and versions of the plan go with their reasons.`;
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
  const nothing = counts.new + counts.renewed + counts.waits + counts.beside === 0 && unreadable === 0;
  return [
    `${label}: ${counts.waits > 0 && came.length === 0 ? 'nothing else that is new.' : nothing && counts.same > 0 ? 'everything in it is kept here already; nothing changed.' : `${came.join(', ') || 'nothing that is kept here'}.`}`,
    counts.waits > 0
      ? `${counts.waits === 1 ? 'A newer version of the plan waits' : `${counts.waits} newer versions of the plan wait`} for your decision: until then nothing changes.`
      : '',
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
