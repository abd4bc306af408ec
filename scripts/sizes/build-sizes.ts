import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { gzipSync } from 'node:zlib';
import { z } from 'zod';
import { BUDGETS_KB } from './budgets.ts';

/** Vite's list of what it built: each chunk with what it imports at once, when asked for, and its styles. */
const chunksSchema = z.record(
  z.string(),
  z.object({
    file: z.string(),
    isEntry: z.boolean().optional(),
    imports: z.array(z.string()).optional(),
    css: z.array(z.string()).optional(),
  }),
);

/** One thing that is weighed against a budget. */
interface Weighed {
  readonly what: string;
  readonly kilobytes: number;
  /** Null for what has no budget. */
  readonly budgetKb: number | null;
}

/** What a build weighs. */
export interface BuildSizes {
  /** Addresses of everything that the first page's script loads before anybody acts. */
  readonly firstFiles: readonly string[];
  readonly weighed: readonly Weighed[];
}

/** Weighs a built folder. Throws when the folder has no list of chunks. */
export function buildSizes(dist: string): BuildSizes {
  const chunks = chunksSchema.parse(JSON.parse(readFileSync(join(dist, '.vite/manifest.json'), 'utf8')));
  const kilobytes = (name: string): number =>
    gzipSync(readFileSync(join(dist, name)), { level: 9 }).length / 1000;
  const sum = (names: readonly string[]): number => names.reduce((total, name) => total + kilobytes(name), 0);

  const first = reached(chunks, 'index.html');
  const firstScripts = [...first].map((key) => chunks[key]?.file ?? '');
  const firstStyles = [...new Set([...first].flatMap((key) => chunks[key]?.css ?? []))];
  const listed = new Set(Object.values(chunks).map(({ file }) => file));
  const scripts = readdirSync(join(dist, 'assets')).filter((name) => name.endsWith('.js'));
  const later = scripts
    .map((name) => `assets/${name}`)
    .filter((name) => listed.has(name) && !firstScripts.includes(name));
  // Workers are built by themselves, so they stand in no list of the page's chunks.
  const workers = scripts.map((name) => `assets/${name}`).filter((name) => !listed.has(name));
  const models = readdirSync(join(dist, 'models')).map((name) => `models/${name}`);
  const each = (names: readonly string[], budgetKb: number | null): Weighed[] =>
    names
      .map((name) => ({ what: name, kilobytes: kilobytes(name), budgetKb }))
      .toSorted((a, b) => b.kilobytes - a.kilobytes);
  return {
    firstFiles: [...firstScripts, ...firstStyles],
    weighed: [
      { what: 'first screen, script', kilobytes: sum(firstScripts), budgetKb: BUDGETS_KB.firstScript },
      { what: 'first screen, styles', kilobytes: sum(firstStyles), budgetKb: BUDGETS_KB.firstStyle },
      ...each(['service-worker.js'], BUDGETS_KB.serviceWorker),
      ...each(workers, BUDGETS_KB.worker),
      ...each(later, BUDGETS_KB.laterChunk),
      ...each(models, null),
    ],
  };
}

/** A chunk and all that it imports at once, directly or not. */
function reached(chunks: z.infer<typeof chunksSchema>, from: string, seen = new Set<string>()): Set<string> {
  const chunk = chunks[from];
  if (chunk === undefined) throw new Error(`buildSizes: the build has no ${from}.`);
  seen.add(from);
  for (const next of chunk.imports ?? []) if (!seen.has(next)) reached(chunks, next, seen);
  return seen;
}
