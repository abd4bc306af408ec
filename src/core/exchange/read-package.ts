import { strFromU8 } from 'fflate';
import { parseGuarded } from '../documents/guarded-text.ts';
import { readDocument, type DocumentKind } from '../documents/read-document.ts';
import { migrationsUpTo } from '../documents/stepwise-migration.ts';
import { PACKAGE_LIMITS, type PackageLimits } from './limits.ts';
import { MANIFEST_PATH, manifestSchema, PACKAGE_FORMAT, PACKAGE_VERSION, type Manifest } from './manifest.ts';
import { readItem, type ItemReading } from './package-items.ts';
import { PackageRefused } from './package-problem.ts';
import { listZip, storedEntry, unpackEntry } from './zip-read.ts';
import type { ZipEntry } from './zip-format.ts';

const MANIFEST: DocumentKind<typeof manifestSchema> = {
  format: PACKAGE_FORMAT,
  version: PACKAGE_VERSION,
  steps: migrationsUpTo(PACKAGE_VERSION, []),
  schema: manifestSchema,
  whole: 'the whole list',
};

/** A package whose list has been read; what is in it is read one by one. */
export interface OpenPackage {
  readonly manifest: Manifest;
  /** The item at a place of the list. Rejects with PackageRefused where its bytes are not what the list says. */
  item(place: number): Promise<ItemReading>;
}

/**
 * Opens a package that is not, or no longer, encrypted. Rejects with PackageRefused: nothing of a package is taken in
 * whose list does not fit what it holds.
 */
export async function openZip(zip: Blob, limits: PackageLimits = PACKAGE_LIMITS): Promise<OpenPackage> {
  const listed = await listZip(zip, limits);
  const manifest = await readManifest(zip, listed, limits);
  const files = new Map(listed.map((entry) => [entry.path, entry]));
  const places = manifest.entries.map(({ path, bytes }) => {
    const file = files.get(path);
    if (file?.bytes !== bytes) throw new PackageRefused({ kind: 'damaged', path });
    return file;
  });
  if (new Set(manifest.entries.map(({ path }) => path)).size + 1 !== listed.length)
    throw new PackageRefused({ kind: 'damaged', path: MANIFEST_PATH });
  return {
    manifest,
    item: async (place) => {
      const [entry, file] = [manifest.entries[place], places[place]];
      if (entry === undefined || file === undefined)
        throw new RangeError(`item: the package has no place ${String(place)}.`);
      const stored = entry.kind === 'video' ? await storedEntry(zip, file) : null;
      const most = entry.kind === 'video' ? limits.fileBytes : limits.documentBytes;
      return readItem(entry, stored ?? new Blob([await unpackEntry(zip, file, most)]));
    },
  };
}

async function readManifest(
  zip: Blob,
  listed: readonly ZipEntry[],
  limits: PackageLimits,
): Promise<Manifest> {
  const file = listed.find(({ path }) => path === MANIFEST_PATH);
  if (file === undefined) throw new PackageRefused({ kind: 'other-content' });
  const text = strFromU8(await unpackEntry(zip, file, limits.manifestBytes));
  const parsed = parseGuarded(text, limits.manifestBytes);
  if (!parsed.ok) throw new PackageRefused({ kind: 'damaged', path: MANIFEST_PATH });
  const reading = readDocument(parsed.value, MANIFEST);
  if (reading.ok) return reading.value;
  const { problem } = reading;
  if (problem.kind === 'newer-version') throw new PackageRefused(problem);
  if (problem.kind === 'not-ours') throw new PackageRefused({ kind: 'other-content' });
  throw new PackageRefused({ kind: 'damaged', path: MANIFEST_PATH });
}
