/**
 * `npm test`: makes everything ready (browser included), then runs every check. All checks run even when one fails,
 * each with its duration; ends with a line that counts tests and checks.
 * `npm test -- --quick` leaves out the tests in a real browser.
 */
import { spawnSync } from 'node:child_process';
import { existsSync, mkdirSync, readFileSync, rmSync } from 'node:fs';
import { join } from 'node:path';
import { ensureReady, ROOT, say } from './bootstrap.mjs';

const quick = process.argv.includes('--quick');
ensureReady();
const { ensureBrowser } = await import('./ensure-browser.mjs');
if (!quick) ensureBrowser();

/** @param {string} path */
const bin = (path) => [process.execPath, join(ROOT, 'node_modules', path)];
/** @param {string} script @param {string[]} args */
const tsx = (script, ...args) => [...bin('tsx/dist/cli.mjs'), join(ROOT, 'scripts', script), ...args];

const REPORT = join(ROOT, '.cache', 'vitest.json');
mkdirSync(join(ROOT, '.cache'), { recursive: true });
rmSync(REPORT, { force: true });

/** @type {[string, string[]][]} */
const CHECKS = [
  ['format', [...bin('prettier/bin/prettier.cjs'), '--check', '--log-level', 'warn', '.']],
  ['lint', [...bin('eslint/bin/eslint.js'), '.']],
  ['types', [...bin('typescript/bin/tsc'), '--noEmit']],
  [
    'types of components',
    [...bin('svelte-check/bin/svelte-check'), '--fail-on-warnings', '--output', 'human'],
  ],
  [
    'import rules',
    [...bin('dependency-cruiser/bin/dependency-cruise.mjs'), 'src', '--output-type', 'err-long'],
  ],
  ['dead code', [...bin('knip/bin/knip.js')]],
  ['generated: record schema', tsx('record-schema.ts', '--check')],
  ['generated: demo truth', tsx('make-demo-clips.ts', '--check')],
  ['indicators', tsx('indicators.ts')],
  [
    'tests',
    [
      ...bin('vitest/vitest.mjs'),
      'run',
      '--reporter=default',
      '--reporter=json',
      `--outputFile.json=${REPORT}`,
      ...(quick ? ['--project', 'unit'] : []),
    ],
  ],
];

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
const tests = countTests();
const checks = results.filter(({ name }) => name !== 'tests');
const passed = tests.passed + checks.filter((check) => check.passed).length;
const failed = tests.failed + checks.filter((check) => !check.passed).length;
say(`\n${passed} passed, ${failed} failed`);
process.exit(results.every((result) => result.passed) ? 0 : 1);

/** Tests by the runner's own report; a run that left none counts as one failure. @returns {{ passed: number, failed: number }} */
function countTests() {
  if (!existsSync(REPORT)) return { passed: 0, failed: 1 };
  const report = JSON.parse(readFileSync(REPORT, 'utf8'));
  return {
    passed: report.numPassedTests,
    failed: report.numFailedTests + (report.numPassedTests === 0 ? 1 : 0),
  };
}
