import type { PackageProblem } from '../exchange/package-problem.ts';
import { shortenedName } from './document-words.ts';

/** Why a file could not be taken in as a package, and what to do about it. */
export function packageSentence(problem: PackageProblem): string {
  switch (problem.kind) {
    case 'not-ours':
      return 'This file is no package. Choose a file whose name ends in .age or .zip that was made under "Send".';
    case 'other-content':
      return 'This file opens, and what is in it is no package. Choose a file that was made under "Send".';
    case 'wrong-passphrase':
      return 'This passphrase does not open the package. Type it again, or ask whoever sent it.';
    case 'no-key':
      return 'No key on this machine opens this package: it was locked for somebody else, or was changed on its way. Ask whoever sent it for whom it was locked, or bring your key here.';
    case 'cut-or-changed':
      return 'This package was cut short or changed on its way, and nothing of it was taken in. Get it again from where it came from.';
    case 'newer-version':
      return `This package was made by a newer version (version ${problem.version}; up to ${problem.readableVersion} can be read here). Update this program and take it in again.`;
    case 'too-large':
      return 'This file holds far more than a package does and is not opened. Get it again from where it came from.';
    case 'too-much-work':
      return 'Opening this file would ask for far more work than a passphrase needs, so it is not opened. Get it again from where it came from.';
    case 'damaged':
      return `This package does not hold what its list says (at "${shortenedName(problem.path)}"). Get it again from where it came from.`;
  }
}
