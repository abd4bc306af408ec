import { MANIFEST_PATH, PACKAGE_FORMAT, PACKAGE_VERSION, type Manifest } from './manifest.ts';
import type { PackageFile } from './package-items.ts';
import { ZipWriting } from './zip-write.ts';

/** What is said of a package as a whole. */
export type PackageHeading = Pick<Manifest, 'id' | 'writtenAt' | 'software' | 'label'>;

/** The list of what a package of these files holds. */
function manifestOf(heading: PackageHeading, files: readonly PackageFile[]): Manifest {
  const entries = files.map(({ entry }) => entry);
  return { format: PACKAGE_FORMAT, schemaVersion: PACKAGE_VERSION, ...heading, entries };
}

/**
 * A package as an open ZIP, part by part. Whoever has it can read it; sealing is the next step.
 * @param onShare - told how much of it is packed, 0 to 1
 */
export async function* packageParts(
  heading: PackageHeading,
  files: readonly PackageFile[],
  onShare: (share: number) => void = () => undefined,
): AsyncGenerator<Uint8Array<ArrayBuffer>> {
  const zip = new ZipWriting();
  const manifest = JSON.stringify(manifestOf(heading, files), null, 2);
  yield* zip.add(MANIFEST_PATH, new TextEncoder().encode(manifest), 'deflate');
  const total = files.reduce((sum, { content }) => sum + content.size, 0);
  let done = 0;
  for (const { entry, content } of files) {
    const bytes = new Uint8Array(await content.arrayBuffer());
    yield* zip.add(entry.path, bytes, entry.kind === 'video' ? 'store' : 'deflate');
    done += content.size;
    onShare(done / Math.max(1, total));
  }
  yield* zip.end();
}
