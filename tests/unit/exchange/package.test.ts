import { unzipSync, zipSync } from 'fflate';
import { beforeAll, describe, expect, it } from 'vitest';
import { PACKAGE_LIMITS } from '../../../src/core/exchange/limits.ts';
import { MANIFEST_PATH } from '../../../src/core/exchange/manifest.ts';
import { documentOf } from '../../../src/core/exchange/package-items.ts';
import { openZip } from '../../../src/core/exchange/read-package.ts';
import type { KeyPair, Lock, Opening, OpeningKeys } from '../../../src/core/exchange/sealing.ts';
import { packageSentence } from '../../../src/core/feedback/package-words.ts';
import { sampleFiles, sampleItems, SAMPLE_HEADING, sealingHere } from '../../helpers/sample-package.ts';

const sealing = sealingHere();
const NOBODY: OpeningKeys = { secretKeys: [], passphrase: null };
const PASSPHRASE = 'twelve quiet bars in a row';
let pair: KeyPair;
let sealed: Blob;

beforeAll(async () => {
  pair = await sealing.newKeyPair();
  sealed = await write({ kind: 'key', publicKey: pair.publicKey });
});

function write(lock: Lock): Promise<Blob> {
  return sealing.write(SAMPLE_HEADING, sampleFiles(), lock, () => undefined);
}

const withKey = (): OpeningKeys => ({ secretKeys: [pair.secretKey], passphrase: null });

/** How an opening ended; what is refused has a sentence. */
function kindOf(opening: Opening): string {
  if (opening.kind !== 'refused') return opening.kind;
  expect(packageSentence(opening.problem)).toMatch(/^[A-Z].*\.$/);
  return opening.problem.kind;
}

async function bytesOf(blob: Blob): Promise<Uint8Array<ArrayBuffer>> {
  return new Uint8Array(await blob.arrayBuffer());
}

describe('a package comes back as it was', () => {
  it.each([
    ['locked with a key', (): Lock => ({ kind: 'key', publicKey: pair.publicKey }), withKey],
    [
      'locked with a passphrase',
      (): Lock => ({ kind: 'passphrase', passphrase: PASSPHRASE }),
      (): OpeningKeys => ({ secretKeys: [], passphrase: PASSPHRASE }),
    ],
    ['open', (): Lock => ({ kind: 'open' }), (): OpeningKeys => NOBODY],
  ])('%s', async (_, lock, keys) => {
    const opening = await sealing.open(await write(lock()), keys());
    if (opening.kind !== 'opened') throw new Error(kindOf(opening));
    const items = sampleItems();
    expect(opening.opened.manifest).toMatchObject({ ...SAMPLE_HEADING, entries: { length: items.length } });
    for (const [place, item] of items.entries()) {
      const reading = await opening.opened.item(place);
      if (!reading.ok || reading.value === null) throw new Error(`Item ${String(place)} was not read.`);
      if (item.kind === 'video' && reading.value.kind === 'video')
        expect(await bytesOf(reading.value.content)).toEqual(await bytesOf(item.content));
      else expect(reading.value).toEqual(item);
    }
  });

  it('as a ZIP that another program opens', async () => {
    const files = unzipSync(await bytesOf(await write({ kind: 'open' })));
    const [plan] = sampleItems();
    if (plan?.kind !== 'plan') throw new Error('No plan.');
    expect(JSON.parse(new TextDecoder().decode(files[`plans/${plan.plan.id}-v1.plan.json`]))).toEqual(
      documentOf(plan),
    );
  });

  it('and says who it is for in no way that can be read from outside', async () => {
    const text = new TextDecoder('latin1').decode(await bytesOf(sealed));
    expect(text).not.toContain(SAMPLE_HEADING.label);
    expect(text).not.toContain(pair.publicKey);
    expect(text).not.toContain('forearmed');
  });
});

describe('what does not open says why', () => {
  it('another key', async () => {
    const other = await sealing.newKeyPair();
    expect(kindOf(await sealing.open(sealed, { secretKeys: [other.secretKey], passphrase: null }))).toBe(
      'no-key',
    );
    expect(kindOf(await sealing.open(sealed, NOBODY))).toBe('no-key');
  });

  it('a passphrase that was not given, or another one', async () => {
    const locked = await write({ kind: 'passphrase', passphrase: PASSPHRASE });
    expect(kindOf(await sealing.open(locked, NOBODY))).toBe('passphrase-asked');
    expect(kindOf(await sealing.open(locked, { secretKeys: [], passphrase: 'another one' }))).toBe(
      'wrong-passphrase',
    );
  });

  it('a passphrase that would ask for far more work', async () => {
    const head = 'age-encryption.org/v1\n-> scrypt AAAAAAAAAAAAAAAAAAAAAA 40\n\n--- AAAA\n';
    expect(kindOf(await sealing.open(new Blob([head]), { secretKeys: [], passphrase: 'x' }))).toBe(
      'too-much-work',
    );
  });

  it('a file cut anywhere', async () => {
    const bytes = await bytesOf(sealed);
    for (const share of [0.001, 0.01, 0.2, 0.5, 0.9, 0.999]) {
      const cut = bytes.slice(0, Math.floor(bytes.length * share));
      expect(['cut-or-changed', 'not-ours']).toContain(
        kindOf(await sealing.open(new Blob([cut]), withKey())),
      );
    }
    expect(kindOf(await sealing.open(new Blob([bytes.slice(0, -1)]), withKey()))).toBe('cut-or-changed');
  });

  it('a byte changed anywhere', async () => {
    const bytes = await bytesOf(sealed);
    for (let probe = 0; probe < 60; probe += 1) {
      const changed = bytes.slice();
      const at = probe < 30 ? probe * 7 : Math.floor((bytes.length * probe) / 60);
      changed[at] = (changed[at] ?? 0) ^ 1;
      const kind = kindOf(await sealing.open(new Blob([changed]), withKey()));
      expect(['cut-or-changed', 'no-key', 'not-ours']).toContain(kind);
    }
  });

  it('something else', async () => {
    expect(kindOf(await sealing.open(new Blob(['A letter.']), withKey()))).toBe('not-ours');
    expect(kindOf(await sealing.open(new Blob([]), withKey()))).toBe('not-ours');
    const holiday = new Blob([zipSync({ 'holiday.txt': new Uint8Array(5) }).slice()]);
    expect(kindOf(await sealing.open(holiday, NOBODY))).toBe('other-content');
  });

  it('a newer version', async () => {
    expect(
      await kindOfZip((files) =>
        edited(files, (text) => text.replace('"schemaVersion": 1', '"schemaVersion": 2')),
      ),
    ).toBe('newer-version');
  });

  it.each([
    ['a file that is not listed', (files: Files): Files => ({ ...files, 'more.txt': new Uint8Array(3) })],
    ['a file that is missing', ({ [dayPath]: _, ...files }: Files): Files => files],
    [
      'another size than the list says',
      (files: Files): Files => edited(files, (text) => text.replace('"bytes": 300000', '"bytes": 300001')),
    ],
    ['a list that is no list', (files: Files): Files => edited(files, () => '[1,')],
    ['a path that leads out', (files: Files): Files => edited(files, (text) => text.replace('days/', '../'))],
  ])('%s', async (_, change) => {
    expect(await kindOfZip(change)).toMatch(/damaged|other-content/);
  });

  it('a bomb, before it fills memory', async () => {
    const files = unzipSync(await bytesOf(await write({ kind: 'open' })));
    const huge = zipSync({ ...files, [dayPath]: new Uint8Array(80_000_000) }).slice();
    // The list in the ZIP lies about the size, as a bomb's would.
    const opening = await sealing.open(new Blob([huge]), NOBODY);
    expect(kindOf(opening)).toBe('damaged');
    await expect(
      openZip(new Blob([huge]), { ...PACKAGE_LIMITS, fileBytes: 1_000_000 }),
    ).rejects.toMatchObject({
      problem: { kind: 'too-large' },
    });
    const lying = huge.slice();
    const view = new DataView(lying.buffer);
    for (let at = 0; at + 4 < lying.length; at += 1)
      if (view.getUint32(at, true) === 80_000_000) view.setUint32(at, dayBytes, true);
    const listed = await openZip(new Blob([lying]));
    await expect(listed.item(1)).rejects.toMatchObject({ problem: { kind: 'too-large' } });
  });
});

describe('a file of a key pair', () => {
  it('gives the pair back to whoever has the passphrase', async () => {
    const file = await sealing.keyFile(pair, PASSPHRASE);
    expect(await sealing.openKeyFile(file, PASSPHRASE)).toEqual(pair);
    expect(await sealing.openKeyFile(file, 'another')).toEqual({ kind: 'wrong-passphrase' });
    expect(await sealing.openKeyFile(sealed, PASSPHRASE)).toEqual({ kind: 'other-content' });
    expect(await sealing.openKeyFile(new Blob(['x']), PASSPHRASE)).toEqual({ kind: 'not-ours' });
  });
});

type Files = Record<string, Uint8Array>;
const [, dayFile] = sampleFiles();
const dayPath = dayFile?.entry.path ?? '';
const dayBytes = dayFile?.entry.bytes ?? 0;

function edited(files: Files, change: (manifest: string) => string): Files {
  const manifest = new TextDecoder().decode(files[MANIFEST_PATH]);
  const changed = change(manifest);
  expect(changed).not.toBe(manifest);
  return { ...files, [MANIFEST_PATH]: new TextEncoder().encode(changed) };
}

async function kindOfZip(change: (files: Files) => Files): Promise<string> {
  const files = unzipSync(await bytesOf(await write({ kind: 'open' })));
  return kindOf(await sealing.open(new Blob([zipSync(change(files)).slice()]), NOBODY));
}
