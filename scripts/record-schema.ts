/**
 * `npm run record-schema`: writes the JSON Schema of each kind of file into docs, from its zod schema.
 * `npm run record-schema -- --check` writes nothing and fails when a file differs.
 */
import { existsSync, readFileSync, writeFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { format, resolveConfig } from 'prettier';
import { z } from 'zod';
import {
  flagSchema,
  holdSchema,
  repetitionSchema,
  rowIndicatorsSchema,
  spanSchema,
} from '../src/core/exercises/judgement.ts';
import { measuredSchema } from '../src/core/kinematics/measured.ts';
import { bandSchema, barSchema, bodyCurlSetUpSchema, dumbbellSchema } from '../src/core/loads/equipment.ts';
import { doseSchema } from '../src/core/plan/dose.ts';
import { PLAN_SCHEMA_VERSION, planSchema } from '../src/core/plan/plan.ts';
import { DAY_SCHEMA_VERSION, trainingDaySchema } from '../src/core/plan/training-day.ts';
import { REVIEW_VERSION, reviewDocumentSchema } from '../src/core/review/review-document.ts';
import { frameSeriesSchema } from '../src/core/session/quantised-frames.ts';
import { RECORD_VERSION, sessionRecordSchema } from '../src/core/session/session-record.ts';

/** Parts that are written once, under their own names, and referred to. */
const PARTS = {
  measuredSchema,
  spanSchema,
  flagSchema,
  holdSchema,
  repetitionSchema,
  rowIndicatorsSchema,
  frameSeriesSchema,
  doseSchema,
  barSchema,
  bodyCurlSetUpSchema,
  bandSchema,
  dumbbellSchema,
};
for (const [name, part] of Object.entries(PARTS))
  z.globalRegistry.add(part, { ...z.globalRegistry.get(part), id: name.replace(/Schema$/, '') });

const made = (file: string): string =>
  `Made from ${file}; change that file and run \`npm run record-schema\`.`;

const KINDS = [
  {
    name: 'docs/session-record.schema.json',
    title: `Session record, version ${RECORD_VERSION}`,
    description: `${made('src/core/session/session-record.ts')} That columns have as many entries as there are frames, and that time rises, is checked when a record is read and cannot be said here.`,
    schema: sessionRecordSchema,
  },
  {
    name: 'docs/plan.schema.json',
    title: `Plan, version ${PLAN_SCHEMA_VERSION}`,
    description: `${made('src/core/plan/plan.ts')} That names are unique, that the stage followed is there, that a dose fits its exercise and grips lie on their bar is checked when a plan is read and cannot be said here.`,
    schema: planSchema,
  },
  {
    name: 'docs/training-day.schema.json',
    title: `Training day, version ${DAY_SCHEMA_VERSION}`,
    description: made('src/core/plan/training-day.ts'),
    schema: trainingDaySchema,
  },
  {
    name: 'docs/session-review.schema.json',
    title: `Review of a session, version ${REVIEW_VERSION}`,
    description: `${made('src/core/review/review-document.ts')} That a correction takes and puts as many holds or repetitions as its kind says is checked when a review is read and cannot be said here.`,
    schema: reviewDocumentSchema,
  },
];

for (const { name, title, description, schema } of KINDS) {
  const path = fileURLToPath(new URL(`../${name}`, import.meta.url));
  const json = JSON.stringify({ title, description, ...z.toJSONSchema(schema) });
  const text = await format(json, { ...(await resolveConfig(path)), parser: 'json' });
  if (!process.argv.includes('--check')) {
    writeFileSync(path, text);
    console.log(`Wrote ${name}.`);
  } else if (!existsSync(path) || readFileSync(path, 'utf8') !== text) {
    console.error(`${name} is not what the code says. Run "npm run record-schema" and commit the file.`);
    process.exitCode = 1;
  } else {
    console.log(`${name} is what the code says.`);
  }
}
