import * as vectors from 'cctv-age';
import { createHash } from 'node:crypto';
import { inflateSync } from 'node:zlib';
import { describe, expect, it } from 'vitest';
import { sealedHead, unseal } from '../../../src/adapters/exchange/age-seal.ts';
import { PackageRefused } from '../../../src/core/exchange/package-problem.ts';

/*
 * The published test kit of the age format (C2SP, "Community Cryptography Test Vectors: age", package cctv-age 0.2.0) through
 * the way that packages go. Left out is only what packages do not use: text armour, and keys of other kinds than X25519.
 */

interface Vector {
  readonly name: string;
  readonly expect: string;
  readonly payloadSha256: string | null;
  readonly secretKeys: readonly string[];
  readonly passphrases: readonly string[];
  readonly isArmoured: boolean;
  readonly file: Uint8Array<ArrayBuffer>;
}

function vectorOf(name: string, content: Uint8Array): Vector {
  const text = Buffer.from(content).toString('latin1');
  const end = text.indexOf('\n\n');
  const fields = text
    .slice(0, end)
    .split('\n')
    .map((line) => {
      const [field = '', ...rest] = line.split(': ');
      return [field, rest.join(': ')] as const;
    });
  const all = (field: string): string[] => fields.flatMap(([named, value]) => (named === field ? value : []));
  const body = content.slice(end + 2);
  return {
    name,
    expect: all('expect')[0] ?? '',
    payloadSha256: all('payload')[0] ?? null,
    secretKeys: all('identity'),
    passphrases: all('passphrase'),
    isArmoured: all('armored').length > 0,
    file: new Uint8Array(all('compressed')[0] === 'zlib' ? inflateSync(body) : body),
  };
}

const all = Object.entries(vectors).flatMap(([name, content]) =>
  content instanceof Uint8Array ? vectorOf(name, content) : [],
);
const used = all.filter(
  ({ isArmoured, secretKeys }) =>
    !isArmoured && secretKeys.every((key) => key.startsWith('AGE-SECRET-KEY-1')),
);

async function outcome({ file, secretKeys, passphrases }: Vector): Promise<string> {
  const blob = new Blob([file]);
  const head = await sealedHead(blob);
  if (head === null) return 'not-ours';
  try {
    const keys = { secretKeys, passphrase: passphrases[0] ?? null };
    const plain = await unseal(blob, head, keys);
    return createHash('sha256')
      .update(new Uint8Array(await plain.arrayBuffer()))
      .digest('hex');
  } catch (error) {
    if (error instanceof PackageRefused) return error.problem.kind;
    throw error;
  }
}

describe('the test kit of the age format', () => {
  it('is there', () => {
    expect(used.length).toBeGreaterThan(70);
    expect(new Set(used.map(({ expect: expected }) => expected))).toContain('success');
  });

  it.each(used.map((vector) => [vector.name, vector] as const))('%s', async (_, vector) => {
    const came = await outcome(vector);
    if (vector.expect === 'success') expect(came).toBe(vector.payloadSha256);
    else expect(came).toMatch(/^(not-ours|cut-or-changed|no-key|wrong-passphrase|too-much-work)$/);
  });
});
