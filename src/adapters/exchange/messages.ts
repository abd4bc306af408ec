import type { Manifest } from '../../core/exchange/manifest.ts';
import type { ItemReading, PackageFile } from '../../core/exchange/package-items.ts';
import type { PackageProblem } from '../../core/exchange/package-problem.ts';
import type { KeyPair, Lock, OpeningKeys } from '../../core/exchange/sealing.ts';
import type { PackageHeading } from '../../core/exchange/write-package.ts';

/* What page and exchange worker say to each other. Both come from one build, so that types are enough. */

/** What the page asks. `opened` is the number of a package that was opened. */
export type ExchangeQuestion =
  | { readonly kind: 'new-key'; readonly moment: string }
  | { readonly kind: 'key-file'; readonly pair: KeyPair; readonly passphrase: string }
  | { readonly kind: 'open-key-file'; readonly file: Blob; readonly passphrase: string }
  | {
      readonly kind: 'write';
      readonly heading: PackageHeading;
      readonly files: readonly PackageFile[];
      readonly lock: Lock;
    }
  | { readonly kind: 'open'; readonly file: Blob; readonly keys: OpeningKeys }
  | { readonly kind: 'item'; readonly opened: number; readonly place: number }
  | { readonly kind: 'close'; readonly opened: number };

/** What is answered. */
export type ExchangeAnswer =
  | { readonly kind: 'key'; readonly pair: KeyPair }
  | { readonly kind: 'file'; readonly file: Blob }
  | { readonly kind: 'opened'; readonly opened: number; readonly manifest: Manifest }
  | { readonly kind: 'passphrase-asked' }
  | { readonly kind: 'refused'; readonly problem: PackageProblem }
  | { readonly kind: 'item'; readonly reading: ItemReading }
  | { readonly kind: 'closed' };

/** A question with its number. */
export interface ToExchange {
  readonly job: number;
  readonly question: ExchangeQuestion;
}

/** An answer, how far the work is, or that it failed with the platform's own words. */
export type FromExchange =
  | { readonly job: number; readonly answer: ExchangeAnswer }
  | { readonly job: number; readonly share: number }
  | { readonly job: number; readonly failed: string };
