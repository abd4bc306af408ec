import { svelte } from '@sveltejs/vite-plugin-svelte';
import { defineConfig } from 'vitest/config';

/** A real browser, driven by playwright-core: one file at a time, because live pictures are measured in real time. */
const inBrowser = {
  environment: 'node',
  fileParallelism: false,
  testTimeout: 300_000,
  hookTimeout: 300_000,
} as const;

/**
 * Three projects of one runner: pure code in Node, a real browser, and what in a real browser takes too long for every
 * `npm test` (`npm run campaign`).
 */
export default defineConfig({
  test: {
    projects: [
      {
        // Some of the state runs without a page: its modules hold runes.
        plugins: [svelte({ configFile: false })],
        test: {
          name: 'unit',
          include: ['tests/unit/**/*.test.ts'],
          environment: 'node',
          // The core keeps no state between calls, so its files are loaded once for many tests: half the time.
          isolate: false,
          // Only what hangs shall be ended: a busy machine may take ten times as long as a free one.
          testTimeout: 60_000,
        },
      },
      { test: { name: 'browser', include: ['tests/browser/**/*.test.ts'], ...inBrowser } },
      { test: { name: 'campaign', include: ['tests/campaign/**/*.test.ts'], ...inBrowser } },
    ],
  },
});
