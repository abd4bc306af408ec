import { resolve } from 'node:path';
import { parseArgs } from 'node:util';
import type { MeasureNetwork } from '../../src/measure-page.ts';
import {
  EXERCISES,
  type ExerciseSettings,
  exerciseSettingsSchema,
} from '../../src/core/exercises/exercise.ts';

/** What `npm run measure -- --help` prints. */
export const HELP = `Measures exercise clips unattended and writes a session record for each.

  npm run measure -- CLIP-OR-FOLDER --exercise EXERCISE --side SIDE [options]

  CLIP-OR-FOLDER         a video clip, or a folder whose clips (.mp4 .mov .m4v .webm .mkv) are measured; folders
                         inside it are not searched
  --exercise EXERCISE    hold, body-curl, band-curl or free-curl
  --side SIDE            left or right: the person's own treated side
  --variant VARIANT      how the forearm is asked to move: supinated (palm up throughout) or turning
  --stature-cm N         the person's height in centimetres, 80 to 250; without it no distance is given in cm
  --rate N               pictures measured a second of the clip's time, 1 to 120, or "all"; without it 15
  --network NETWORK      lite, full (without it) or heavy: the larger, the slower; combined looks at every picture with
                         full, with full in a mirror and with heavy, for the least error and 5 to 8 times the time of
                         full; library-full measures with the library's own runtime instead, to compare
  --workers N            how many cores measure, 1 to 8; without it all. Results do not depend on it
  --out DIR              where results go; without it the folder "out" where the command was started
  --help                 this text

Written to DIR: NAME.record.json (the session record) and NAME.frames.csv for each clip, and summary.csv with a row for
each clip. Two clips that differ only in their ending are named with it (press-mp4, press-mov).

The command ends with 0 when every clip was measured; with 1 when one could not be (the others are measured all the
same, and the reason stands in the table and in summary.csv; a clip in which nobody or never the treated arm is seen
counts as one); with 2 for wrong arguments.
`;

/** A measuring run as asked for. Paths are absolute. */
export interface MeasureRun {
  readonly input: string;
  readonly out: string;
  readonly settings: ExerciseSettings;
  /** Pictures measured a second of the clip's time; null for all. */
  readonly rateHz: number | null;
  readonly network: MeasureNetwork;
  /** How many cores measure; null for all there are. */
  readonly workers: number | null;
}

/** As in the app. */
const USUAL_RATE_HZ = 15;
const HIGHEST_RATE_HZ = 120;
const MOST_WORKERS = 8;
const NETWORKS: readonly MeasureNetwork[] = ['lite', 'full', 'heavy', 'combined', 'library-full'];

/** What the arguments ask for. */
export type Asked =
  | { readonly kind: 'help' }
  | { readonly kind: 'wrong'; readonly sentence: string }
  | { readonly kind: 'run'; readonly run: MeasureRun };

const OPTIONS = {
  exercise: { type: 'string' },
  side: { type: 'string' },
  variant: { type: 'string' },
  'stature-cm': { type: 'string' },
  rate: { type: 'string' },
  network: { type: 'string' },
  workers: { type: 'string' },
  out: { type: 'string' },
  help: { type: 'boolean' },
} as const;

/** Reads the arguments; relative paths start at `startedIn`. */
export function readArguments(args: readonly string[], startedIn: string): Asked {
  const parsed = parse(args);
  if (typeof parsed === 'string') return wrong(parsed);
  const { values, positionals } = parsed;
  if (values.help === true) return { kind: 'help' };
  const [input, ...more] = positionals;
  if (input === undefined) return wrong('Name a clip or a folder.');
  if (more.length > 0)
    return wrong(
      `Name one clip or one folder: "${more[0] ?? ''}" is one too many. Put names with spaces in quotes.`,
    );
  if (values.exercise === undefined) return wrong(`Add --exercise ${EXERCISES.join('|')}.`);
  if (values.side === undefined) return wrong('Add --side left or --side right: the treated side.');
  const settings = exerciseSettingsSchema.safeParse({
    exercise: values.exercise,
    side: values.side,
    variant: values.variant ?? null,
    statureCm: toNumber(values['stature-cm']),
  });
  if (!settings.success) return wrong(sentenceFor(settings.error.issues[0]?.path[0], values));
  const rateHz = values.rate === 'all' ? null : (toNumber(values.rate) ?? USUAL_RATE_HZ);
  if (rateHz !== null && !(rateHz >= 1 && rateHz <= HIGHEST_RATE_HZ))
    return wrong(`"${values.rate ?? ''}" is no rate: give pictures a second, 1 to 120, or "all".`);
  const network = NETWORKS.find((known) => known === (values.network ?? 'full'));
  if (network === undefined)
    return wrong(`"${values.network ?? ''}" is no network here: take one of ${NETWORKS.join(', ')}.`);
  const workers = toNumber(values.workers);
  if (workers !== null && !(Number.isInteger(workers) && workers >= 1 && workers <= MOST_WORKERS))
    return wrong(`"${values.workers ?? ''}" is no number of workers: give 1 to 8.`);
  return {
    kind: 'run',
    run: {
      input: resolve(startedIn, input),
      out: resolve(startedIn, values.out ?? 'out'),
      settings: settings.data,
      rateHz,
      network,
      workers,
    },
  };
}

function wrong(sentence: string): Asked {
  return { kind: 'wrong', sentence };
}

function parse(args: readonly string[]) {
  try {
    return parseArgs({ args: [...args], options: OPTIONS, allowPositionals: true, strict: true });
  } catch (error) {
    // Node's sentences name the option; what follows the first one is advice on escaping.
    return error instanceof Error ? (error.message.split('. ')[0] ?? '').replace(/\.?$/, '.') : String(error);
  }
}

function toNumber(text: string | undefined): number | null {
  if (text === undefined) return null;
  return text.trim() === '' ? Number.NaN : Number(text);
}

function sentenceFor(field: PropertyKey | undefined, values: Readonly<Record<string, unknown>>): string {
  switch (field) {
    case 'exercise':
      return `"${String(values['exercise'])}" is no exercise here: take one of ${EXERCISES.join(', ')}.`;
    case 'side':
      return `"${String(values['side'])}" is no side: take left or right.`;
    case 'variant':
      return `"${String(values['variant'])}" is no variant: take supinated or turning.`;
    default:
      return `"${String(values['stature-cm'])}" is no height: give centimetres between 80 and 250.`;
  }
}
