/**
 * What a package may hold at most. Chosen for this tool: a year of training on every day with a video of each stays far
 * below, and what is larger could fill the memory of a telephone.
 */
export const PACKAGE_LIMITS = {
  /** Bytes of the file as it came, and of what it unpacks to in all. */
  fileBytes: 1_500_000_000,
  /** Files in one package. */
  entries: 20_000,
  /** Bytes of the table of contents and of the manifest, unpacked. */
  manifestBytes: 16_000_000,
  /** Bytes of one document, unpacked. A session of an hour at sixty pictures a second has under a tenth of it. */
  documentBytes: 64_000_000,
  /** Work that a passphrase may ask for, as a power of two; what the age tools write themselves (age specification, scrypt). */
  passphraseWork: 18,
} as const;

/** Limits of a package; smaller ones only in tests. */
export type PackageLimits = { readonly [Name in keyof typeof PACKAGE_LIMITS]: number };
