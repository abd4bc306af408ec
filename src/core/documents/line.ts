import { z } from 'zod';

/** Words that a person typed: one line of at most so many characters, shown as text and never as anything else. */
export const lineSchema = (most: number) =>
  z
    .string()
    .trim()
    .min(1)
    .max(most)
    .regex(/^[^\p{Cc}\p{Cf}\p{Zl}\p{Zp}]*$/u, 'It holds characters that cannot be shown.');
