import { Decrypter, Encrypter, generateX25519Identity, identityToRecipient } from 'age-encryption';
import { PACKAGE_LIMITS } from '../../core/exchange/limits.ts';
import { PackageRefused } from '../../core/exchange/package-problem.ts';
import type { KeyPair, Lock, OpeningKeys } from '../../core/exchange/sealing.ts';

/** The first line of an encrypted file (age specification, header). */
const FIRST_LINE = 'age-encryption.org/v1\n';
/** The header of a file for twenty keys has under a tenth of it. */
const HEADER_BYTES = 65_536;

/** What an encrypted file says of itself before it is opened; null for what is no file of the age format. */
export interface SealedHead {
  /** passphrase: one was typed for it; key: only who has one of certain secret keys opens it. */
  readonly opensWith: 'passphrase' | 'key';
  /** Work that the passphrase asks for, as a power of two; 0 for a key. */
  readonly work: number;
}

/** Reads the head of an encrypted file. */
export async function sealedHead(file: Blob): Promise<SealedHead | null> {
  const head = new TextDecoder('latin1').decode(await file.slice(0, HEADER_BYTES).arrayBuffer());
  if (!head.startsWith(FIRST_LINE)) return null;
  const passphrase = /^-> scrypt \S+ (\d{1,9})$/m.exec(head.slice(0, head.indexOf('\n---')));
  return passphrase === null
    ? { opensWith: 'key', work: 0 }
    : { opensWith: 'passphrase', work: Number(passphrase[1]) };
}

/** A new key pair: 128 bits of strength by X25519, as the age specification has it. */
export async function newKeyPair(madeAt: string): Promise<KeyPair> {
  const secretKey = await generateX25519Identity();
  return { publicKey: await identityToRecipient(secretKey), secretKey, madeAt };
}

/**
 * Encrypts parts as they come.
 * @param passphraseWork - how much work trying a passphrase is, as a power of two
 */
export async function seal(
  parts: AsyncIterable<Uint8Array<ArrayBuffer>>,
  lock: Lock,
  passphraseWork: number,
): Promise<Blob> {
  if (lock.kind === 'open') return new Blob(await collected(parts), { type: 'application/zip' });
  const encrypter = new Encrypter();
  if (lock.kind === 'passphrase') {
    encrypter.setScryptWorkFactor(passphraseWork);
    encrypter.setPassphrase(lock.passphrase);
  } else encrypter.addRecipient(lock.publicKey);
  const sealed = await encrypter.encrypt(streamOf(parts));
  return new Blob(await collected(streamed(sealed)), { type: 'application/age' });
}

/** Decrypts a file of the age format. Rejects with PackageRefused. */
export async function unseal(file: Blob, head: SealedHead, keys: OpeningKeys): Promise<Blob> {
  if (file.size > PACKAGE_LIMITS.fileBytes) throw new PackageRefused({ kind: 'too-large' });
  if (head.work > PACKAGE_LIMITS.passphraseWork) throw new PackageRefused({ kind: 'too-much-work' });
  const decrypter = new Decrypter();
  if (head.opensWith === 'passphrase') decrypter.addPassphrase(keys.passphrase ?? '');
  else for (const secretKey of keys.secretKeys) decrypter.addIdentity(secretKey);
  const plain = await opened(file, decrypter, head);
  try {
    return new Blob(await collected(streamed(plain)));
  } catch {
    // A piece does not carry the seal that it was sent with, or the last one is missing.
    throw new PackageRefused({ kind: 'cut-or-changed' });
  }
}

/** The library's sentence where no key fits; anything else of the head is not as it was sealed. */
const NO_KEY_FITS = /no identity matched/;

async function opened(
  file: Blob,
  decrypter: Decrypter,
  { opensWith }: SealedHead,
): Promise<ReadableStream<Uint8Array>> {
  try {
    return await decrypter.decrypt(file.stream());
  } catch (error) {
    if (!(error instanceof Error) || !NO_KEY_FITS.test(error.message))
      throw new PackageRefused({ kind: 'cut-or-changed' });
    throw new PackageRefused({ kind: opensWith === 'passphrase' ? 'wrong-passphrase' : 'no-key' });
  }
}

function streamOf(parts: AsyncIterable<Uint8Array<ArrayBuffer>>): ReadableStream<Uint8Array<ArrayBuffer>> {
  const iterator = parts[Symbol.asyncIterator]();
  return new ReadableStream({
    async pull(controller) {
      const { done, value } = await iterator.next();
      if (done === true) controller.close();
      else controller.enqueue(value);
    },
  });
}

/** By its reader, because Safari cannot walk a stream with "for await". */
async function* streamed(stream: ReadableStream<Uint8Array>): AsyncGenerator<Uint8Array<ArrayBuffer>> {
  const reader = stream.getReader();
  for (;;) {
    const { done, value } = await reader.read();
    if (done) return;
    yield new Uint8Array(value);
  }
}

/** Gathered in larger parts, which a browser keeps outside the page's memory. */
const GATHERED_BYTES = 8_000_000;

async function collected(parts: AsyncIterable<Uint8Array<ArrayBuffer>>): Promise<Blob[]> {
  const whole: Blob[] = [];
  let gathered: Uint8Array<ArrayBuffer>[] = [];
  let bytes = 0;
  for await (const part of parts) {
    gathered.push(part);
    bytes += part.length;
    if (bytes < GATHERED_BYTES) continue;
    whole.push(new Blob(gathered));
    gathered = [];
    bytes = 0;
  }
  return [...whole, new Blob(gathered)];
}
