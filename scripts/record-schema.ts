/**
 * `npm run record-schema`: writes docs/session-record.schema.json from the zod schema.
 * `npm run record-schema -- --check` writes nothing and fails when the file differs.
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
import { frameSeriesSchema } from '../src/core/session/quantised-frames.ts';
import { RECORD_VERSION, sessionRecordSchema } from '../src/core/session/session-record.ts';

const NAME = 'docs/session-record.schema.json';
const path = fileURLToPath(new URL(`../${NAME}`, import.meta.url));

/** Parts that are written once, under their own names, and referred to. */
const PARTS = {
  measuredSchema,
  spanSchema,
  flagSchema,
  holdSchema,
  repetitionSchema,
  rowIndicatorsSchema,
  frameSeriesSchema,
};
for (const [name, part] of Object.entries(PARTS))
  z.globalRegistry.add(part, { ...z.globalRegistry.get(part), id: name.replace(/Schema$/, '') });

const schema = {
  title: `Session record, version ${RECORD_VERSION}`,
  description:
    'Made from src/core/session/session-record.ts; change that file and run `npm run record-schema`. That columns have as many entries as there are frames, and that time rises, is checked when a record is read and cannot be said here.',
  ...z.toJSONSchema(sessionRecordSchema),
};
const text = await format(JSON.stringify(schema), { ...(await resolveConfig(path)), parser: 'json' });

if (!process.argv.includes('--check')) {
  writeFileSync(path, text);
  console.log(`Wrote ${NAME}.`);
} else if (!existsSync(path) || readFileSync(path, 'utf8') !== text) {
  console.error(`${NAME} is not what the code says. Run "npm run record-schema" and commit the file.`);
  process.exitCode = 1;
} else {
  console.log(`${NAME} is what the code says.`);
}
