/** What a page says to the service worker. */
export type WorkerMessage =
  /** Become the worker of all pages now. */
  | { readonly kind: 'take-over' }
  /** Fetch these model files while nobody else needs the line. */
  | { readonly kind: 'keep-models'; readonly urls: readonly string[] };

/**
 * The message, or null when it is none. Without zod: the worker is read again at every start of the browser, and only
 * pages of this origin can speak to it.
 */
export function readWorkerMessage(data: unknown): WorkerMessage | null {
  if (typeof data !== 'object' || data === null || !('kind' in data)) return null;
  if (data.kind === 'take-over') return { kind: 'take-over' };
  if (data.kind !== 'keep-models' || !('urls' in data) || !Array.isArray(data.urls)) return null;
  return { kind: 'keep-models', urls: data.urls.filter((url) => typeof url === 'string') };
}
