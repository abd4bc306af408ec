import { existsSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { gunzipSync, gzipSync } from 'node:zlib';
import { z } from 'zod';
import { CONDITIONS } from './conditions.ts';

const figureSchema = z.object({ value: z.number(), truth: z.number() }).nullable();

const setValuesSchema = z.object({
  hold: figureSchema,
  repetitions: z.object({
    rangeDeg: z.array(figureSchema),
    loweringSeconds: z.array(figureSchema),
    shoulderShare: z.array(figureSchema),
    torsoTravelCm: z.array(figureSchema),
  }),
});

/** A figure of a set or of one of its repetitions beside the truth, in the quantity's unit; null: not measured. */
export type Figure = z.infer<typeof figureSchema>;
/** The figures of one set; a repetition's stands at its place. */
export type SetValues = z.infer<typeof setValuesSchema>;

const conditionSchema = z.enum(CONDITIONS.map(({ key }) => key));

/** Everything that repeated measuring gave. This schema is the one definition of measured.json.gz beside this file. */
export const keptSchema = z.object({
  version: z.literal(1),
  set: z.enum(['developing', 'proof']),
  model: z.enum(['full', 'fullMirrored', 'heavy']),
  rateHz: z.number(),
  targets: z.array(
    z.object({ id: z.string(), condition: conditionSchema, repeats: z.array(setValuesSchema) }),
  ),
});
export type KeptValues = z.infer<typeof keptSchema>;

const FILE = join(import.meta.dirname, 'measured.json.gz');

/** Figures are kept so fine, far finer than anything measured. */
const DIGITS = 4;

/** The figures as they are kept. */
export function asKept(values: SetValues): SetValues {
  return setValuesSchema.parse(
    JSON.parse(
      JSON.stringify(values, (_, value: unknown) =>
        typeof value === 'number' ? Number(value.toFixed(DIGITS)) : value,
      ),
    ),
  );
}

/** What was kept last; null before the first time. */
export function readKept(): KeptValues | null {
  if (!existsSync(FILE)) return null;
  return keptSchema.parse(JSON.parse(gunzipSync(readFileSync(FILE)).toString('utf8')));
}

/** Keeps it instead of what was kept before. */
export function writeKept(kept: KeptValues): void {
  writeFileSync(FILE, gzipSync(JSON.stringify(keptSchema.parse(kept)), { level: 9 }));
}
