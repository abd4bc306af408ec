/**
 * `npm run strain [-- --sets 130] [--first 1]`: seeded synthetic traces under every strain, through the judgement of the
 * record and of the live view, beside what is true in them: shares in percent with Wilson's 95 % intervals. Ends with 0:
 * what is missed stands in the table.
 */
import { spawn } from 'node:child_process';
import { parseArgs } from 'node:util';
import { z } from 'zod';
import { strainFigures, type StrainFigures } from '../tests/strain/strain-figures.ts';
import { STRAIN_KIND_NAMES, strainSet } from '../tests/strain/strain-sets.ts';
import { strainTable } from '../tests/strain/strain-table.ts';

const PROCESSES = 2;

const { values } = parseArgs({
  options: {
    sets: { type: 'string', default: '130' },
    first: { type: 'string', default: '1' },
    part: { type: 'string' },
  },
});
const setsOfEachKind = Number(values.sets);
const firstSeed = Number(values.first);
if (!Number.isInteger(setsOfEachKind) || setsOfEachKind < 1 || !Number.isInteger(firstSeed)) {
  console.error('Give --sets, how many of each strain, and --first, the first seed, as whole numbers.');
  process.exit(2);
}

/** What a process hands to the one that started it, checked because it has been text in between. */
const figuresSchema: z.ZodType<StrainFigures[]> = z.array(
  z.object({
    kind: z.enum(STRAIN_KIND_NAMES),
    isMinimumJerk: z.boolean(),
    repetitionsExact: z.boolean().nullable(),
    partialsExact: z.boolean().nullable(),
    bendingErrorsSeconds: z.array(z.number()),
    loweringErrorsSeconds: z.array(z.number()),
    holdErrorSeconds: z.number().nullable(),
    liveAgrees: z.boolean(),
  }),
);

/** Every strain's sets whose number falls to a part. */
function figuresOfPart(part: number): StrainFigures[] {
  return STRAIN_KIND_NAMES.flatMap((kind) =>
    Array.from({ length: setsOfEachKind }, (_, i) => i)
      .filter((i) => i % PROCESSES === part)
      .map((i) => strainFigures(strainSet(kind, firstSeed + i), firstSeed + i)),
  );
}

function partElsewhere(part: number): Promise<StrainFigures[]> {
  const options = ['--sets', values.sets, '--first', values.first, '--part', String(part)];
  const child = spawn(process.execPath, ['--import', 'tsx', import.meta.filename, ...options], {
    stdio: ['ignore', 'pipe', 'inherit'],
  });
  return new Promise((done, fail) => {
    let text = '';
    child.stdout.setEncoding('utf8').on('data', (piece: string) => (text += piece));
    child.on('close', (code) => {
      if (code === 0) done(figuresSchema.parse(JSON.parse(text)));
      else fail(new Error(`A part of the strained sets ended with ${String(code)}.`));
    });
  });
}

if (values.part !== undefined) console.log(JSON.stringify(figuresOfPart(Number(values.part))));
else {
  const parts = await Promise.all(Array.from({ length: PROCESSES }, (_, part) => partElsewhere(part)));
  console.log(strainTable(parts.flat()));
}
