import { existsSync } from 'node:fs';
import { readFile, writeFile } from 'node:fs/promises';
import { fileURLToPath } from 'node:url';
import { join } from 'node:path';
import { parseArgs } from 'node:util';
import { CLIPS } from '../demo-clips/generator/clips.ts';
import { filmClips } from '../demo-clips/generator/film-clips.ts';
import { createScenario, type ClipOutline } from '../demo-clips/generator/scenario.ts';
import { clipTruth } from '../demo-clips/generator/truth.ts';
import { clipTruthSchema } from '../demo-clips/generator/truth-schema.ts';
import { truthCsv } from '../demo-clips/generator/truth-csv.ts';
import { findBrowser, launchBrowser } from './browser.mjs';

const HELP = `npm run demo-clips -- [CLIP ...] [--check] [--truth-only] [--browser PATH]

Makes the demo clips and their truth again from their seeds, all of them or the ones named.
  --check       only compare the truth files with what the seeds give; draw nothing, write nothing
  --truth-only  write the truth files again without drawing
  --browser     the Chromium to draw with (default: the one found on this machine)
Clips: ${CLIPS.map(({ name }) => name).join(', ')}
Ends with 0, or 1 when a truth file differs or a clip could not be made, or 2 for wrong arguments.`;

const FOLDER = fileURLToPath(new URL('../demo-clips/', import.meta.url));

/** The two truth files of a clip, as text. */
function truthFiles(outline: ClipOutline): { path: string; text: string }[] {
  const scenario = createScenario(outline);
  const truth = clipTruthSchema.parse(clipTruth(scenario));
  return [
    { path: join(FOLDER, `${outline.name}.truth.json`), text: `${JSON.stringify(truth, null, 2)}\n` },
    { path: join(FOLDER, `${outline.name}.truth.csv`), text: truthCsv(scenario) },
  ];
}

async function check(outlines: readonly ClipOutline[]): Promise<number> {
  let differing = 0;
  for (const { path, text } of outlines.flatMap(truthFiles)) {
    const kept = existsSync(path) ? await readFile(path, 'utf8') : null;
    const same = kept === text;
    if (!same) differing++;
    console.log(`${same ? 'same   ' : kept === null ? 'missing' : 'differs'}  ${path}`);
  }
  if (differing > 0)
    console.error('Run npm run demo-clips to make the differing clips and their truth again.');
  return differing > 0 ? 1 : 0;
}

async function writeTruth(outlines: readonly ClipOutline[]): Promise<void> {
  for (const { path, text } of outlines.flatMap(truthFiles)) await writeFile(path, text);
}

async function make(outlines: readonly ClipOutline[], browserPath: string | null): Promise<number> {
  if (browserPath === null || !existsSync(browserPath)) {
    console.error('No browser was found to draw with. Install Chromium, or name one with --browser PATH.');
    return 1;
  }
  await writeTruth(outlines);
  const frameCounts = new Map(outlines.map((outline) => [outline.name, createScenario(outline).frameCount]));
  const names = outlines.map(({ name }) => name);
  await filmClips(
    names,
    (args) => launchBrowser(browserPath, args),
    async (name, file) => {
      await writeFile(join(FOLDER, `${name}.mp4`), file);
      console.log(`${name}.mp4  ${(file.length / 1e6).toFixed(2)} MB`);
    },
    (name, framesDone) => {
      console.log(`${name}: ${framesDone.toString()} of ${(frameCounts.get(name) ?? 0).toString()} frames`);
    },
  );
  return 0;
}

async function main(): Promise<number> {
  const options = { check: { type: 'boolean' }, 'truth-only': { type: 'boolean' }, help: { type: 'boolean' }, browser: { type: 'string' } } as const; // prettier-ignore
  let parsed;
  try {
    parsed = parseArgs({ options, allowPositionals: true });
  } catch (error) {
    console.error(`${error instanceof Error ? error.message : 'Wrong arguments.'}\n\n${HELP}`);
    return 2;
  }
  const { values, positionals } = parsed;
  if (values.help === true) {
    console.log(HELP);
    return 0;
  }
  const unknown = positionals.filter((name) => !CLIPS.some((clip) => clip.name === name));
  if (unknown.length > 0) {
    console.error(`There is no clip named ${unknown.join(', ')}.\n\n${HELP}`);
    return 2;
  }
  const outlines = positionals.length === 0 ? CLIPS : CLIPS.filter(({ name }) => positionals.includes(name));
  if (values.check === true) return check(outlines);
  if (values['truth-only'] === true) {
    await writeTruth(outlines);
    return 0;
  }
  return make(outlines, values.browser ?? findBrowser());
}

try {
  process.exitCode = await main();
} catch (error) {
  const [said, cause] = error instanceof Error ? [error.message, error.cause] : [String(error), undefined];
  console.error(cause instanceof Error ? `${said} ${cause.message}` : said);
  process.exitCode = 1;
}
