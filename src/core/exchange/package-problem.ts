/** Why a file could not be taken in as a package. The sentences stand in feedback/package-words.ts. */
export type PackageProblem =
  /** Neither an encrypted file of the age format nor an open package. */
  | { readonly kind: 'not-ours' }
  /** It is encrypted in the age format, and what is in it is no package. */
  | { readonly kind: 'other-content' }
  | { readonly kind: 'wrong-passphrase' }
  /** No key on this machine opens it, or its first lines were changed on the way: the format cannot tell which. */
  | { readonly kind: 'no-key' }
  /** A byte is not what was sealed, or bytes are missing. */
  | { readonly kind: 'cut-or-changed' }
  | { readonly kind: 'newer-version'; readonly version: number; readonly readableVersion: number }
  /** Far more than a package holds, or something that unpacks to far more than it says. */
  | { readonly kind: 'too-large' }
  /** Opening it would ask for far more work than a passphrase needs. */
  | { readonly kind: 'too-much-work' }
  /** It opened, and what is in it is not what its list says. */
  | { readonly kind: 'damaged'; readonly path: string };

/** Thrown inside reading and turned into a value at its border. */
export class PackageRefused extends Error {
  readonly problem: PackageProblem;

  constructor(problem: PackageProblem) {
    super(`The package is refused: ${problem.kind}.`);
    this.problem = problem;
  }
}
