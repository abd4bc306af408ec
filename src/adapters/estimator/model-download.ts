import { EstimatorError } from '../../core/pose/estimator-problem.ts';
import type { ModelFile } from './model-manifest.ts';

/**
 * One model file on its way into memory. The hash is computed here over the bytes, not by fetch's `integrity`: with that
 * the browser withholds the body until all of it has come, and progress would jump from nothing to everything.
 */
export class ModelDownload {
  readonly totalBytes: number;
  /** Of the try that is under way; falls back to 0 when a damaged copy is fetched again. */
  loadedBytes = 0;
  /** Called whenever loadedBytes changes. */
  readonly listeners = new Set<() => void>();
  /** The checked content. Rejects with EstimatorError 'model-missing' or 'model-damaged'. */
  readonly content: Promise<ArrayBuffer>;

  readonly #url: string;
  readonly #sha256: string;

  /** Begins to fetch `url`, whose content must be `stated`. */
  constructor(url: string, stated: ModelFile) {
    this.#url = url;
    this.#sha256 = stated.sha256;
    this.totalBytes = stated.bytes;
    this.content = this.#load();
  }

  async #load(): Promise<ArrayBuffer> {
    let isDamaged = false;
    let answer = 'nothing';
    // The second try passes by every cache and stores anew, so that a copy damaged there heals itself.
    for (const cache of ['default', 'reload'] as const) {
      const response = await fetch(this.#url, { cache }).catch(() => null);
      if (response !== null) answer = String(response.status);
      if (response?.ok !== true || response.body === null) continue;
      const read = await this.#read(response.body);
      if (read instanceof ArrayBuffer) return read;
      isDamaged ||= read === 'damaged';
    }
    if (isDamaged)
      throw new EstimatorError('model-damaged', `${this.#url} does not have the hash of the manifest.`);
    throw new EstimatorError('model-missing', `${this.#url} answered ${answer}.`);
  }

  /** The content in one buffer of the stated size, so that it is never there twice. */
  async #read(body: ReadableStream<Uint8Array>): Promise<ArrayBuffer | 'damaged' | 'cut-off'> {
    const content = new Uint8Array(this.totalBytes);
    const reader = body.getReader();
    this.#moveTo(0);
    try {
      for (let next = await reader.read(); !next.done; next = await reader.read()) {
        if (this.loadedBytes + next.value.length > this.totalBytes) {
          await reader.cancel();
          return 'damaged';
        }
        content.set(next.value, this.loadedBytes);
        this.#moveTo(this.loadedBytes + next.value.length);
      }
    } catch {
      return 'cut-off';
    }
    const isWhole = this.loadedBytes === this.totalBytes && (await sha256Of(content)) === this.#sha256;
    return isWhole ? content.buffer : 'damaged';
  }

  #moveTo(loadedBytes: number): void {
    this.loadedBytes = loadedBytes;
    for (const listener of this.listeners) listener();
  }
}

/** Lower-case hex. */
async function sha256Of(content: Uint8Array<ArrayBuffer>): Promise<string> {
  const digest = new Uint8Array(await crypto.subtle.digest('SHA-256', content));
  return Array.from(digest, (byte) => byte.toString(16).padStart(2, '0')).join('');
}
