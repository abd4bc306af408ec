import { PACKAGE_LIMITS } from '../../core/exchange/limits.ts';
import { PackageRefused, type PackageProblem } from '../../core/exchange/package-problem.ts';
import { openZip, type OpenPackage } from '../../core/exchange/read-package.ts';
import { keyPairSchema, type KeyPair, type Lock, type OpeningKeys } from '../../core/exchange/sealing.ts';
import { packageParts } from '../../core/exchange/write-package.ts';
import { newKeyPair, seal, sealedHead, unseal } from './age-seal.ts';
import type { ExchangeAnswer, ExchangeQuestion } from './messages.ts';

/** Does what sealing and opening ask for, wherever it runs: in the worker, or on the page where there is none. */
export class PackageDesk {
  readonly #open = new Map<number, OpenPackage>();
  readonly #passphraseWork: number;
  #count = 0;

  /** passphraseWork: how much work trying a passphrase is, as a power of two; less only in tests. */
  constructor(passphraseWork: number = PACKAGE_LIMITS.passphraseWork) {
    this.#passphraseWork = passphraseWork;
  }

  /** Answers a question. Rejects only where the platform itself fails. */
  async answer(question: ExchangeQuestion, onShare: (share: number) => void): Promise<ExchangeAnswer> {
    switch (question.kind) {
      case 'new-key':
        return { kind: 'key', pair: await newKeyPair(question.moment) };
      case 'key-file':
        return {
          kind: 'file',
          file: await seal(keyLines(question.pair), lockedBy(question.passphrase), this.#passphraseWork),
        };
      case 'open-key-file':
        return answered(async () => ({
          kind: 'key',
          pair: await readKeyFile(question.file, question.passphrase),
        }));
      case 'write': {
        const { heading, files, lock } = question;
        return {
          kind: 'file',
          file: await seal(packageParts(heading, files, onShare), lock, this.#passphraseWork),
        };
      }
      case 'open':
        return answered(() => this.#opened(question.file, question.keys));
      case 'item':
        return answered(async () => ({
          kind: 'item',
          reading: await this.#package(question.opened).item(question.place),
        }));
      case 'close':
        this.#open.delete(question.opened);
        return { kind: 'closed' };
    }
  }

  async #opened(file: Blob, keys: OpeningKeys): Promise<ExchangeAnswer> {
    const head = await sealedHead(file);
    if (head?.opensWith === 'passphrase' && keys.passphrase === null) return { kind: 'passphrase-asked' };
    const zip = head === null ? file : await unseal(file, head, keys);
    if (!(await isZip(zip))) refuse({ kind: head === null ? 'not-ours' : 'other-content' });
    const opened = await openZip(zip);
    this.#count += 1;
    this.#open.set(this.#count, opened);
    return { kind: 'opened', opened: this.#count, manifest: opened.manifest };
  }

  #package(number: number): OpenPackage {
    const opened = this.#open.get(number);
    if (opened === undefined) throw new Error(`The package ${String(number)} is not open here.`);
    return opened;
  }
}

/** What is refused becomes an answer; anything else goes on. */
async function answered(work: () => Promise<ExchangeAnswer>): Promise<ExchangeAnswer> {
  try {
    return await work();
  } catch (error) {
    if (error instanceof PackageRefused) return { kind: 'refused', problem: error.problem };
    throw error;
  }
}

/** A ZIP begins with a file of its own (PKWARE APPNOTE 4.3.7). */
async function isZip(file: Blob): Promise<boolean> {
  return (await file.slice(0, 4).text()) === 'PK\u0003\u0004';
}

function lockedBy(passphrase: string): Lock {
  return { kind: 'passphrase', passphrase };
}

/** A key pair as the tools for the age format keep it: lines with # are remarks. */
async function* keyLines({ publicKey, secretKey, madeAt }: KeyPair): AsyncGenerator<Uint8Array<ArrayBuffer>> {
  yield new TextEncoder().encode(`# created: ${madeAt}\n# public key: ${publicKey}\n${secretKey}\n`);
}

async function readKeyFile(file: Blob, passphrase: string): Promise<KeyPair> {
  const head = await sealedHead(file);
  if (head === null) refuse({ kind: 'not-ours' });
  if (head.opensWith === 'key') refuse({ kind: 'other-content' });
  const lines = await (await unseal(file, head, { secretKeys: [], passphrase })).text();
  const part = (pattern: RegExp): string | undefined => pattern.exec(lines)?.[1];
  const pair = keyPairSchema.safeParse({
    publicKey: part(/^# public key: (\S+)$/m),
    secretKey: part(/^(AGE-SECRET-KEY-1\S+)$/m),
    madeAt: part(/^# created: (\S+)$/m),
  });
  return pair.success ? pair.data : refuse({ kind: 'other-content' });
}

function refuse(problem: PackageProblem): never {
  throw new PackageRefused(problem);
}
