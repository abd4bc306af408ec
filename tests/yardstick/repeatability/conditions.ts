/** What is different from one measurement of a movement to the next, and how a report calls it. */
export const CONDITIONS = [
  { key: 'noise', words: 'nothing but the noise from picture to picture' },
  { key: 'camera-20-own', words: 'camera put up anew to 20° of square, lasting errors as they were' },
  { key: 'camera-20', words: 'camera put up anew to 20° of square' },
  { key: 'camera-45', words: 'camera put up anew to 45° of square' },
  { key: 'body', words: 'another body' },
] as const;
export type Condition = (typeof CONDITIONS)[number]['key'];

/** How often each movement is measured under each condition. */
export const REPEATS = 3;
