import { modelFile } from './model-manifest.ts';
import { ModelDownload } from './model-download.ts';

/** Files whose content has been checked. Whoever asked for the same file shares one copy of it in memory. */
export interface ModelFiles {
  /** The own-origin address of the file; it carries the hash. Throws when the name was not asked for. */
  url(name: string): string;
  /** The checked content, shared: read it, never write to it or transfer it. Rejects after release(). */
  bytes(name: string): Promise<ArrayBuffer>;
  /** Gives the memory back, once everything has read what it needs. Addresses go on working. */
  release(): void;
}

/** How far all files asked for have come. loadedBytes falls back when a damaged copy is fetched again. */
export interface ModelProgress {
  readonly loadedBytes: number;
  readonly totalBytes: number;
}

/** What is being loaded or held in this page or worker, by address, and by how many it is used. */
const held = new Map<string, { readonly download: ModelDownload; users: number }>();

/**
 * The address of a model file below `base` (for example "/models/"). It changes with the content, so that a copy kept
 * under it never goes stale.
 */
export function modelUrl(base: string, name: string): string {
  return `${base}${name}?sha256=${modelFile(name).sha256.slice(0, 16)}`;
}

/**
 * Loads model files from `base` and checks each against the hash that models/manifest.json states; a damaged copy in a
 * cache is fetched again. Files that are being loaded or held already are not loaded again. Works in pages and workers.
 * Rejects with EstimatorError 'model-missing' or 'model-damaged'.
 */
export async function loadModelFiles(
  base: string,
  names: readonly string[],
  onProgress?: (progress: ModelProgress) => void,
): Promise<ModelFiles> {
  const urls = new Map(names.map((name) => [name, modelUrl(base, name)]));
  const downloads = new Map([...urls].map(([name, url]) => [name, take(url, name)]));
  const release = (): void => {
    for (const [name, download] of downloads) letGo(present(urls, name), download);
    downloads.clear();
  };
  await reporting([...downloads.values()], onProgress).catch((error: unknown) => {
    release();
    throw error;
  });
  return {
    url: (name) => present(urls, name),
    bytes: async (name) => present(downloads, name).content,
    release,
  };
}

/** Waits for all downloads and tells how far they have come. */
async function reporting(
  downloads: readonly ModelDownload[],
  onProgress: ((progress: ModelProgress) => void) | undefined,
): Promise<void> {
  const totalBytes = downloads.reduce((sum, download) => sum + download.totalBytes, 0);
  const report = (): void =>
    onProgress?.({
      loadedBytes: downloads.reduce((sum, { loadedBytes }) => sum + loadedBytes, 0),
      totalBytes,
    });
  for (const { listeners } of downloads) listeners.add(report);
  try {
    report();
    await Promise.all(downloads.map(({ content }) => content));
  } finally {
    for (const { listeners } of downloads) listeners.delete(report);
  }
}

/** The download of an address, begun when nobody has it yet. A failed one is forgotten, so that the next try is one. */
function take(url: string, name: string): ModelDownload {
  const there = held.get(url);
  if (there !== undefined) {
    there.users += 1;
    return there.download;
  }
  const download = new ModelDownload(url, modelFile(name));
  held.set(url, { download, users: 1 });
  download.content.catch(() => {
    if (held.get(url)?.download === download) held.delete(url);
  });
  return download;
}

function letGo(url: string, download: ModelDownload): void {
  const there = held.get(url);
  if (there?.download !== download) return;
  there.users -= 1;
  if (there.users === 0) held.delete(url);
}

function present<T>(map: ReadonlyMap<string, T>, name: string): T {
  const value = map.get(name);
  if (value === undefined) throw new Error(`ModelFiles: "${name}" was not loaded, or was released.`);
  return value;
}
