import type { GuardedProblem } from '../documents/guarded-text.ts';

/**
 * Why a file or link could not be opened as what it was taken for, and what to do about it.
 * @param noun - what it was taken for, for example "training day"
 */
export function documentProblemSentence(problem: GuardedProblem, noun: string): string {
  switch (problem.kind) {
    case 'not-json':
      return `This ${noun} is damaged or cut short and cannot be read. Get it again from where it came from.`;
    case 'not-ours':
      return `This is not a ${noun}. Open the link or the file that you were given for it.`;
    case 'newer-version':
      return `This ${noun} was written by a newer version (version ${problem.version}; up to ${problem.readableVersion} can be read here). Update this program and open it again.`;
    case 'damaged':
      return `This ${noun} is not opened, because something in it cannot be right (at "${shortenedName(problem.path)}"). Get it again from where it came from.`;
    case 'too-long':
      return `This is too large to be a ${noun} and is not opened. Get it again from where it came from.`;
    case 'name-twice':
      return `This ${noun} says "${shortenedName(problem.name)}" twice and is not opened, because nobody can tell which of the two was meant. Get it again from where it came from.`;
  }
}

/** A name out of a foreign file: one line, and no longer than a sentence can bear. */
export function shortenedName(name: string): string {
  const plain = name.replace(/[\p{C}\p{Z}]+/gu, ' ');
  return plain.length > 60 ? `${plain.slice(0, 60)}…` : plain;
}
