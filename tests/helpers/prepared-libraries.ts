/**
 * What the project's modules take from outside the project, for vite to prepare before the first page. A library that
 * were found only when a page first asks for it would be prepared together with the others anew; the page would then
 * hold two copies of what they share (Svelte for one), and draw nothing.
 */
export const SCREEN_LIBRARIES: readonly string[] = [
  '@noble/hashes/sha2.js',
  '@noble/hashes/utils.js',
  'age-encryption',
  'dexie',
  'fflate',
  'mediabunny',
  'svelte',
  'uqr',
  'zod',
];

/** The libraries of the screens and the runtimes of the network. */
export const ALL_LIBRARIES: readonly string[] = [
  ...SCREEN_LIBRARIES,
  '@litertjs/core',
  '@tensorflow-models/pose-detection',
];
