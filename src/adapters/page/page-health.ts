import type { PageHealth } from '../../core/feedback/diagnostics-words.ts';

/** Pauses are kept for so long, milliseconds: nobody asks for more. */
const KEPT_MS = 60_000;

/** Chromium's own measure of a page's memory; not in TypeScript's library and in no other browser. */
interface MemoryInfo {
  readonly usedJSHeapSize: number;
}

/** Watches the page's main thread from now on. What a browser does not tell stays null. */
export function watchPageHealth(): PageHealth {
  // W3C Long Tasks: stretches of more than 50 ms in which the main thread does nothing else.
  const isTold = PerformanceObserver.supportedEntryTypes.includes('longtask');
  let pauses: { readonly endMs: number; readonly lengthMs: number }[] = [];
  if (isTold) {
    const observer = new PerformanceObserver((list) => {
      const oldestMs = performance.now() - KEPT_MS;
      pauses = pauses.filter(({ endMs }) => endMs > oldestMs);
      for (const { startTime, duration } of list.getEntries())
        pauses.push({ endMs: startTime + duration, lengthMs: duration });
    });
    observer.observe({ type: 'longtask' });
  }
  return {
    longestPauseMs(withinSeconds) {
      if (!isTold) return null;
      const sinceMs = performance.now() - withinSeconds * 1000;
      return Math.max(0, ...pauses.filter(({ endMs }) => endMs > sinceMs).map(({ lengthMs }) => lengthMs));
    },
    memoryBytes() {
      const { memory } = performance as Performance & { readonly memory?: MemoryInfo };
      return memory?.usedJSHeapSize ?? null;
    },
  };
}
