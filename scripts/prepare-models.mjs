/**
 * Copies the networks and their runtimes out of the installed packages into models/files (not committed) and checks
 * each against models/manifest.json. Quick when they are there already. Ends with 1 and a sentence when a file is
 * missing or is not the one that the manifest states.
 */
import { createHash } from 'node:crypto';
import { copyFile, mkdir, readFile } from 'node:fs/promises';
import { join } from 'node:path';
import { fileURLToPath, pathToFileURL } from 'node:url';

const ROOT = fileURLToPath(new URL('..', import.meta.url));

/**
 * @param {string} path
 * @param {{ bytes: number, sha256: string }} stated
 * @returns {Promise<'good' | 'missing' | 'different'>}
 */
async function compare(path, stated) {
  const content = await readFile(path).catch(() => null);
  if (content === null) return 'missing';
  const sha256 = createHash('sha256').update(content).digest('hex');
  return content.length === stated.bytes && sha256 === stated.sha256 ? 'good' : 'different';
}

/**
 * Puts every file of the manifest into models/files.
 * @returns {Promise<string[]>} one sentence for each file that could not be had; empty when all is well.
 */
export async function prepareModels(root = ROOT) {
  const manifest = JSON.parse(await readFile(join(root, 'models/manifest.json'), 'utf8'));
  const target = join(root, 'models/files');
  await mkdir(target, { recursive: true });
  const problems = [];
  for (const file of manifest.files) {
    const to = join(target, file.name);
    if ((await compare(to, file)) === 'good') continue;
    const from = join(root, 'node_modules', file.package, file.path);
    const found = await compare(from, file);
    if (found === 'good') await copyFile(from, to);
    else if (found === 'missing')
      problems.push(`${file.name} is not in ${file.package}: run "npm ci" and try again.`);
    else
      problems.push(
        `${file.name} of ${file.package} is not the file that models/manifest.json states (version ${file.version}): ` +
          `delete node_modules/${file.package}, run "npm ci" and try again.`,
      );
  }
  return problems;
}

if (process.argv[1] !== undefined && import.meta.url === pathToFileURL(process.argv[1]).href) {
  const problems = await prepareModels();
  for (const problem of problems) console.error(problem);
  process.exitCode = problems.length === 0 ? 0 : 1;
}
