/**
 * The most that each kind of file may weigh, kilobytes (1000 bytes) after gzip at level 9. The first screen's script is
 * the project's promise: interactive within a second on a middling phone's line. Its aim is 150; the fit of the arm's
 * plane made it 154, because the page can judge a set by itself and has all of measuring for that in its first script. The others are today's sizes with room
 * for about a fifth more (common practice, no source), so that a library which slips in is noticed.
 */
export const BUDGETS_KB = {
  firstScript: 155,
  firstStyle: 12,
  laterChunk: 230,
  worker: 250,
  serviceWorker: 20,
} as const;
