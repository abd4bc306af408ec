import { z } from 'zod';
import { therapistKeySchema } from '../plan/therapist-key.ts';
import type { Manifest } from './manifest.ts';
import type { ItemReading, PackageFile } from './package-items.ts';
import type { PackageProblem } from './package-problem.ts';
import type { PackageHeading } from './write-package.ts';

/** A therapist's key pair in the age format: the public key locks, the secret key opens. */
export const keyPairSchema = z.strictObject({
  publicKey: therapistKeySchema,
  secretKey: z.string().regex(/^AGE-SECRET-KEY-1[QPZRY9X8GF2TVDW0S3JN54KHCE6MUA7L]{58}$/),
  madeAt: z.iso.datetime({ offset: true }),
});
export type KeyPair = z.infer<typeof keyPairSchema>;

/** What a package is locked with. open: with nothing; whoever has the file can read it. */
export type Lock =
  | { readonly kind: 'open' }
  | { readonly kind: 'passphrase'; readonly passphrase: string }
  | { readonly kind: 'key'; readonly publicKey: string };

/** What there is to open a package with. */
export interface OpeningKeys {
  readonly secretKeys: readonly string[];
  /** Null before one was typed. */
  readonly passphrase: string | null;
}

/** A package that was opened and whose items are read one by one. */
export interface OpenedPackage {
  readonly manifest: Manifest;
  item(place: number): Promise<ItemReading | { readonly ok: false; readonly refused: PackageProblem }>;
  /** To be called when nothing of it is wanted any more. */
  close(): void;
}

/** What opening gives. passphrase: it was sealed with one, and none was given yet. */
export type Opening =
  | { readonly kind: 'opened'; readonly opened: OpenedPackage }
  | { readonly kind: 'passphrase-asked' }
  | { readonly kind: 'refused'; readonly problem: PackageProblem };

/** Seals and opens packages; away from the page, because a passphrase alone costs a second of work. */
export interface Sealing {
  newKeyPair(): Promise<KeyPair>;
  /** The file of a key pair, locked with a passphrase; the tools for the age format read it as well. */
  keyFile(pair: KeyPair, passphrase: string): Promise<Blob>;
  openKeyFile(file: Blob, passphrase: string): Promise<KeyPair | PackageProblem>;
  write(
    heading: PackageHeading,
    files: readonly PackageFile[],
    lock: Lock,
    onShare: (share: number) => void,
  ): Promise<Blob>;
  open(file: Blob, keys: OpeningKeys): Promise<Opening>;
}
