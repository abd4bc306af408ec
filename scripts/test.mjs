/**
 * `npm test`: makes everything ready (browser included), then runs every check. All checks run even when one fails,
 * each with its duration; ends with a line that counts tests and checks.
 * `npm test -- --quick` leaves out the tests in a real browser.
 */
import { spawn, spawnSync } from 'node:child_process';
import { existsSync, mkdirSync, readFileSync, rmSync } from 'node:fs';
import { join, relative } from 'node:path';
import { ensureReady, ROOT, say } from './bootstrap.mjs';

const quick = process.argv.includes('--quick');
ensureReady();
const { ensureBrowser } = await import('./ensure-browser.mjs');
if (!quick) ensureBrowser();

/** @param {string} path */
const bin = (path) => [process.execPath, join(ROOT, 'node_modules', path)];
/** @param {string} script @param {string[]} args */
const tsx = (script, ...args) => [...bin('tsx/dist/cli.mjs'), join(ROOT, 'scripts', script), ...args];

/** @param {string} project */
const report = (project) => join(ROOT, '.cache', `vitest-${project}.json`);
/** @param {string} project */
const vitest = (project) => {
  const reporters = ['--reporter=default', '--reporter=json', `--outputFile.json=${report(project)}`];
  return [...bin('vitest/vitest.mjs'), 'run', '--project', project, ...reporters];
};
const PROJECTS = quick ? ['unit'] : ['unit', 'browser'];
mkdirSync(join(ROOT, '.cache'), { recursive: true });
for (const project of PROJECTS) rmSync(report(project), { force: true });

/** @typedef {{ name: string, passed: boolean, seconds: number }} Result */

/** What only reads the code or computes: two at a time, each single one keeps one core busy. @type {[string, string[]][]} */
const STILL = [
  [
    // Of components and of all other files that tsconfig.json names.
    'types',
    [...bin('svelte-check/bin/svelte-check'), '--fail-on-warnings', '--output', 'human'],
  ],
  ['lint', [...bin('eslint/bin/eslint.js'), '.']],
  ['format', [...bin('prettier/bin/prettier.cjs'), '--check', '--log-level', 'warn', '.']],
  ['generated: detectable change', tsx('repeatability.ts', '--check')],
  [
    'types of the service worker',
    [...bin('typescript/bin/tsc'), '--project', 'tsconfig.service-worker.json'],
  ],
  [
    'import rules',
    [...bin('dependency-cruiser/bin/dependency-cruise.mjs'), 'src', '--output-type', 'err-long'],
  ],
  ['dead code', [...bin('knip/bin/knip.js')]],
  ['generated: JSON Schemas', tsx('record-schema.ts', '--check')],
  ['generated: demo truth', tsx('make-demo-clips.ts', '--check')],
  ['indicators', tsx('indicators.ts')],
  ['sizes', tsx('sizes.ts')],
];
/** One after the other: a runner of tests takes all cores, and a live camera is measured in real time. @type {[string, string[]][]} */
const ALONE = [['unit tests', vitest('unit')]];
if (!quick) ALONE.push(['browser tests', vitest('browser')]);

const results = [...(await inPairs(STILL)), ...ALONE.map(runAlone)];

say('\n== summary');
for (const { name, passed, seconds } of results) {
  say(`${passed ? 'passed' : 'FAILED'}  ${name.padEnd(26)} ${seconds.toFixed(1).padStart(7)} s`);
}
const tests = PROJECTS.map(countTests);
const checks = results.filter(({ name }) => !name.endsWith(' tests'));
const sum = (/** @type {number[]} */ counts) => counts.reduce((total, count) => total + count, 0);
const passed = sum(tests.map((test) => test.passed)) + checks.filter((check) => check.passed).length;
const failed = sum(tests.map((test) => test.failed)) + checks.filter((check) => !check.passed).length;
say(`\n${passed} passed, ${failed} failed`);
// Once more and last: of a long output often only the end is at hand.
for (const name of tests.flatMap((test) => test.failures)) say(`FAILED  ${name}`);
process.exit(results.every((result) => result.passed) ? 0 : 1);

/**
 * Two at a time; what each says is printed when it has ended, so that nothing is mixed.
 * @param {[string, string[]][]} checks
 * @returns {Promise<Result[]>}
 */
async function inPairs(checks) {
  const waiting = [...checks];
  /** @type {Result[]} */
  const results = [];
  const work = async () => {
    for (let next = waiting.shift(); next !== undefined; next = waiting.shift())
      results.push(await runQuietly(next));
  };
  await Promise.all([work(), work()]);
  return results;
}

/**
 * @param {[string, string[]]} check
 * @returns {Promise<Result>}
 */
function runQuietly([name, [command = '', ...args]]) {
  const started = Date.now();
  return new Promise((resolve) => {
    const child = spawn(command, args, { cwd: ROOT, stdio: ['ignore', 'pipe', 'pipe'] });
    let output = '';
    child.stdout.on('data', (chunk) => (output += String(chunk)));
    child.stderr.on('data', (chunk) => (output += String(chunk)));
    child.on('error', (error) => (output += error.message));
    child.on('close', (status) => {
      say(`\n== ${name}\n${output.trimEnd()}`);
      resolve({ name, passed: status === 0, seconds: (Date.now() - started) / 1000 });
    });
  });
}

/**
 * @param {[string, string[]]} check
 * @returns {Result}
 */
function runAlone([name, [command = '', ...args]]) {
  say(`\n== ${name}`);
  const started = Date.now();
  const done = spawnSync(command, args, { cwd: ROOT, stdio: ['ignore', 'inherit', 'inherit'] });
  return { name, passed: done.status === 0, seconds: (Date.now() - started) / 1000 };
}

/**
 * Tests by the runner's own report; a run that left none counts as one failure. Each failure with file, name and the
 * first lines of what was said (a browser's second and third say what it waited for).
 * @param {string} project
 * @returns {{ passed: number, failed: number, failures: string[] }}
 */
function countTests(project) {
  if (!existsSync(report(project)))
    return { passed: 0, failed: 1, failures: [`${project}: the runner left no report.`] };
  const said = JSON.parse(readFileSync(report(project), 'utf8'));
  /** @type {{ name: string, message?: string, assertionResults: { status: string, fullName: string, failureMessages: string[] }[] }[]} */
  const files = said.testResults;
  const failures = files.flatMap(({ name, message, assertionResults }) => {
    const file = relative(ROOT, name);
    const failed = assertionResults.filter(({ status }) => status === 'failed');
    const told = failed.map(
      ({ fullName, failureMessages: [first = ''] }) =>
        `${file}: ${fullName}: ${first.split('\n').slice(0, 4).join(' | ')}`,
    );
    return told.length === 0 && message ? [`${file}: ${message.split('\n')[0]}`] : told;
  });
  const failed = said.numFailedTests + (said.numPassedTests === 0 ? 1 : 0);
  return { passed: said.numPassedTests, failed, failures };
}
