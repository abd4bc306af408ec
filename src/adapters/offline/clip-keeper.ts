import { createPartialResponse } from 'workbox-range-requests/createPartialResponse.js';

const PREFIX = 'demo-clips-';

/** Keeps the demo clips that were opened, whole, and answers requests for parts of them. */
export class ClipKeeper {
  readonly #cacheName: string;
  readonly #fetching = new Set<string>();

  /** `version` changes with any of the clips. */
  constructor(version: string) {
    this.#cacheName = PREFIX + version;
  }

  /** Answers a page; `kept` settles when the clip is stored, which is a second, whole request in the background. */
  async answer(request: Request): Promise<{ readonly response: Response; readonly kept: Promise<void> }> {
    const there = await (await caches.open(this.#cacheName)).match(request.url);
    if (there === undefined) return { response: await fetch(request), kept: this.#keep(request.url) };
    const response = request.headers.has('range') ? await createPartialResponse(request, there) : there;
    return { response, kept: Promise.resolve() };
  }

  /** Forgets the clips of other builds. */
  async dropOthers(): Promise<void> {
    for (const name of await caches.keys())
      if (name.startsWith(PREFIX) && name !== this.#cacheName) await caches.delete(name);
  }

  async #keep(url: string): Promise<void> {
    if (this.#fetching.has(url)) return;
    this.#fetching.add(url);
    try {
      const response = await fetch(url, { priority: 'low' });
      if (response.status === 200) await (await caches.open(this.#cacheName)).put(url, response);
    } catch {
      // Kept the next time it is opened.
    } finally {
      this.#fetching.delete(url);
    }
  }
}
