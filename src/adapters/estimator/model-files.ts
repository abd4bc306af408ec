import { EstimatorError } from '../../core/pose/estimator-problem.ts';
import { modelFile } from './model-manifest.ts';

/** Files whose content has been checked, held in this page. */
export interface ModelFiles {
  /** An address of the checked content. Throws when the name was not asked for. */
  url(name: string): string;
  /** The checked content. */
  bytes(name: string): Promise<ArrayBuffer>;
  /** Gives the memory back; addresses stop working. */
  release(): void;
}

const TYPES: Readonly<Record<string, string>> = { js: 'text/javascript', wasm: 'application/wasm' };

/**
 * Fetches model files from `base` (for example "/models/") and lets the browser check each against the hash that
 * models/manifest.json states. Rejects with EstimatorError 'model-missing' or 'model-damaged'.
 */
export async function loadModelFiles(base: string, names: readonly string[]): Promise<ModelFiles> {
  const blobs = new Map(
    await Promise.all(names.map(async (name) => [name, await fetchChecked(base, name)] as const)),
  );
  const urls = new Map([...blobs].map(([name, blob]) => [name, URL.createObjectURL(blob)] as const));
  return {
    url: (name) => present(urls, name),
    bytes: (name) => present(blobs, name).arrayBuffer(),
    release: () => {
      for (const url of urls.values()) URL.revokeObjectURL(url);
    },
  };
}

async function fetchChecked(base: string, name: string): Promise<Blob> {
  const url = `${base}${name}`;
  const integrity = `sha256-${hexToBase64(modelFile(name).sha256)}`;
  const type = TYPES[name.split('.').at(-1) ?? ''] ?? 'application/octet-stream';
  // The second try passes by the browser's cache, so that a copy damaged there heals itself.
  for (const cache of ['default', 'reload'] as const) {
    const response = await fetch(url, { integrity, cache }).catch(() => null);
    if (response?.ok === true) return new Blob([await response.arrayBuffer()], { type });
  }
  // A refused hash and an unreachable server give the same error: ask once more without the hash to tell them apart.
  const there = await fetch(url, { cache: 'reload' }).catch(() => null);
  if (there?.ok === true)
    throw new EstimatorError('model-damaged', `${url} does not have the hash of the manifest.`);
  throw new EstimatorError(
    'model-missing',
    `${url} answered ${there === null ? 'nothing' : String(there.status)}.`,
  );
}

function hexToBase64(hex: string): string {
  const pairs = hex.match(/../g) ?? [];
  return btoa(String.fromCharCode(...pairs.map((pair) => Number.parseInt(pair, 16))));
}

function present<T>(map: ReadonlyMap<string, T>, name: string): T {
  const value = map.get(name);
  if (value === undefined) throw new Error(`ModelFiles: "${name}" was not loaded.`);
  return value;
}
