import { unzipSync, zipSync } from 'fflate';
import type { KeyPair, Lock } from '../../src/core/exchange/sealing.ts';
import { sampleFiles, SAMPLE_HEADING, sealingHere } from './sample-package.ts';
import { seededRandom } from './seeded-random.ts';

/* Packages made hostile from good ones, for the campaign of faults and for tests. */

/** A package that was changed, how, and what opens it. */
export interface HostilePackage {
  readonly how: string;
  readonly file: Blob;
  readonly secretKeys: readonly string[];
}

type Bytes = Uint8Array<ArrayBuffer>;

/** So many packages, each changed in another way or place; the same seed makes the same changes. */
export async function* hostilePackages(count: number, seed = 1): AsyncGenerator<HostilePackage> {
  const random = seededRandom(seed);
  const below = (limit: number): number => Math.floor(random() * limit);
  const sealing = sealingHere();
  const pair: KeyPair = await sealing.newKeyPair();
  const write = async (lock: Lock): Promise<Bytes> =>
    new Uint8Array(
      await (await sealing.write(SAMPLE_HEADING, sampleFiles(), lock, () => undefined)).arrayBuffer(),
    );
  const sealed = await write({ kind: 'key', publicKey: pair.publicKey });
  const open = await write({ kind: 'open' });

  const flipped = (good: Bytes): Bytes => {
    const bytes = good.slice();
    const at = below(bytes.length);
    bytes[at] = (bytes[at] ?? 0) ^ (1 << below(8));
    return bytes;
  };
  const cut = (good: Bytes): Bytes => good.slice(0, below(good.length));
  const doubled = (good: Bytes): Bytes => {
    const from = 1 + below(good.length - 1);
    return new Uint8Array([...good.slice(0, from), ...good.slice(below(from))]);
  };
  /** The ZIP made anew with the text of one file changed, so that its check sum fits. */
  const rewritten = (): Bytes => {
    const files = unzipSync(open);
    const names = Object.keys(files).filter((name) => name.endsWith('.json'));
    const name = names[below(names.length)] ?? '';
    const text = new TextDecoder().decode(files[name]);
    const at = below(text.length);
    const letters = ['"', '{', '9', '-', '\u0000', 'e', ',', 'null', '1e999', '\u202e'];
    const letter = letters[below(letters.length)] ?? '"';
    const changed = text.slice(0, at) + letter + text.slice(at + below(3));
    return zipSync({ ...files, [name]: new TextEncoder().encode(changed) }).slice();
  };
  const ways: readonly (readonly [how: string, make: () => Bytes])[] = [
    ['a bit of the sealed package changed', () => flipped(sealed)],
    ['the sealed package cut', () => cut(sealed)],
    ['a part of the sealed package twice', () => doubled(sealed)],
    ['a bit of the open package changed', () => flipped(open)],
    ['the open package cut', () => cut(open)],
    ['a document in it changed', rewritten],
  ];
  for (let made = 0; made < count; made += 1) {
    const [how, make] = ways[made % ways.length] ?? ['', () => cut(sealed)];
    yield { how, file: new Blob([make()]), secretKeys: [pair.secretKey] };
  }
}
