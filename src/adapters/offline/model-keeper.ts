/** A model file by its name in models/manifest.json. */
export interface ModelIdentity {
  readonly name: string;
  /** Lower-case hex. */
  readonly sha256: string;
}

const CACHE = 'models';

/**
 * Keeps model files in the service worker, under addresses that carry their hash: what is kept never goes stale. Only
 * content with the right hash is kept. Pages go first: what is fetched in advance waits while a page loads a model.
 */
export class ModelKeeper {
  readonly #sha256By = new Map<string, string>();
  /** Requests of pages that are under way. */
  readonly #asked = new Set<Promise<unknown>>();
  #inAdvance: AbortController | null = null;
  #keeping: Promise<void> | null = null;

  /** `base` is the absolute address below which the files lie, with a slash at the end. */
  constructor(base: string, files: readonly ModelIdentity[]) {
    for (const { name, sha256 } of files)
      this.#sha256By.set(`${base}${name}?sha256=${sha256.slice(0, 16)}`, sha256);
  }

  /** True for a whole model file asked for by its hash. */
  concerns(request: Request): boolean {
    return request.method === 'GET' && !request.headers.has('range') && this.#sha256By.has(request.url);
  }

  /**
   * Answers a page: the kept copy, or the network's, which is then kept. A request with cache 'reload' goes past the
   * kept copy: whoever asks so has found it damaged. `kept` settles when the copy is stored.
   */
  async answer(request: Request): Promise<{ readonly response: Response; readonly kept: Promise<unknown> }> {
    const isDistrusted = request.cache === 'reload';
    const there = isDistrusted ? undefined : await (await caches.open(CACHE)).match(request.url);
    if (there !== undefined) return { response: there, kept: Promise.resolve() };
    this.#inAdvance?.abort();
    const fetching = fetch(request);
    const kept = fetching.then((response) => this.#store(request.url, response.clone()));
    const settled = kept.catch(() => undefined);
    this.#asked.add(settled);
    void settled.then(() => this.#asked.delete(settled));
    return { response: await fetching, kept: settled };
  }

  /** Fetches files in advance, one after the other and behind everything else on the line. Ends early when offline. */
  keep(urls: readonly string[]): Promise<void> {
    this.#keeping ??= this.#keepAll(urls.filter((url) => this.#sha256By.has(url))).finally(() => {
      this.#keeping = null;
    });
    return this.#keeping;
  }

  /** Forgets copies of files that this build does not know. */
  async dropUnknown(): Promise<void> {
    const cache = await caches.open(CACHE);
    for (const request of await cache.keys())
      if (!this.#sha256By.has(request.url)) await cache.delete(request);
  }

  async #keepAll(urls: readonly string[]): Promise<void> {
    const cache = await caches.open(CACHE);
    const waiting = [...urls];
    for (let url = waiting[0]; url !== undefined; url = waiting[0]) {
      await Promise.all(this.#asked);
      const stop = new AbortController();
      this.#inAdvance = stop;
      try {
        if ((await cache.match(url)) === undefined)
          await this.#store(url, await fetch(url, { priority: 'low', signal: stop.signal }));
        waiting.shift();
      } catch {
        // A page needs the line: this file waits and is tried again. Else the network is gone.
        if (!stop.signal.aborted) return;
      }
    }
  }

  async #store(url: string, response: Response): Promise<void> {
    if (!response.ok) return;
    const content = await response.arrayBuffer();
    if ((await sha256Of(content)) !== this.#sha256By.get(url)) return;
    const type = response.headers.get('Content-Type') ?? 'application/octet-stream';
    await (await caches.open(CACHE)).put(url, new Response(content, { headers: { 'Content-Type': type } }));
  }
}

/** Lower-case hex. */
async function sha256Of(content: ArrayBuffer): Promise<string> {
  const digest = new Uint8Array(await crypto.subtle.digest('SHA-256', content));
  return Array.from(digest, (byte) => byte.toString(16).padStart(2, '0')).join('');
}
