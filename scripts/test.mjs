/**
 * `npm test`: makes everything ready (browser included), then runs every check. All checks run even when one fails,
 * each with its duration; ends with a line that counts tests and checks.
 * `npm test -- --quick` leaves out the tests in a real browser.
 */
import { spawnSync } from 'node:child_process';
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

/** @type {[string, string[]][]} */
const CHECKS = [
  ['format', [...bin('prettier/bin/prettier.cjs'), '--check', '--log-level', 'warn', '.']],
  ['lint', [...bin('eslint/bin/eslint.js'), '.']],
  ['types', [...bin('typescript/bin/tsc'), '--noEmit']],
  [
    'types of the service worker',
    [...bin('typescript/bin/tsc'), '--project', 'tsconfig.service-worker.json'],
  ],
  [
    'types of components',
    [...bin('svelte-check/bin/svelte-check'), '--fail-on-warnings', '--output', 'human'],
  ],
  [
    'import rules',
    [...bin('dependency-cruiser/bin/dependency-cruise.mjs'), 'src', '--output-type', 'err-long'],
  ],
  ['dead code', [...bin('knip/bin/knip.js')]],
  ['generated: JSON Schemas', tsx('record-schema.ts', '--check')],
  ['generated: demo truth', tsx('make-demo-clips.ts', '--check')],
  ['generated: detectable change', tsx('repeatability.ts', '--check')],
  ['indicators', tsx('indicators.ts')],
  ['sizes', tsx('sizes.ts')],
  ['unit tests', vitest('unit')],
];
// After the others and alone: a live camera is measured in real time, and a busy machine drops its pictures.
if (!quick) CHECKS.push(['browser tests', vitest('browser')]);

/** @type {{ name: string, passed: boolean, seconds: number }[]} */
const results = [];
for (const [name, [command, ...args]] of CHECKS) {
  say(`\n== ${name}`);
  const started = Date.now();
  const done = spawnSync(/** @type {string} */ (command), args, {
    cwd: ROOT,
    stdio: ['ignore', 'inherit', 'inherit'],
  });
  results.push({ name, passed: done.status === 0, seconds: (Date.now() - started) / 1000 });
}

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
