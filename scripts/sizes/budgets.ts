/**
 * The most that each kind of file may weigh, kilobytes (1000 bytes) after gzip at level 9. The first screen's script is
 * the project's promise: interactive within a second on a middling phone's line. The others are today's sizes with room
 * for about a fifth more (common practice, no source), so that a library which slips in is noticed. Two thirds of the service
 * worker (17 of 25 kB) are the list of the app's files with their hashes: it grows by 50 bytes with every file that is
 * loaded on demand, and is read after the first screen.
 */
export const BUDGETS_KB = {
  firstScript: 150,
  firstStyle: 12,
  laterChunk: 230,
  worker: 250,
  serviceWorker: 30,
} as const;
