/** `node scripts/ready-then.mjs SCRIPT.ts [ARGUMENT ...]`: makes everything ready, then runs a TypeScript command. */
import { spawnSync } from 'node:child_process';
import { join } from 'node:path';
import { ensureReady, giveUp, ROOT } from './bootstrap.mjs';

const [script, ...args] = process.argv.slice(2);
if (script === undefined) giveUp('Name the script to run.');
ensureReady();
const done = spawnSync(
  process.execPath,
  [join(ROOT, 'node_modules/tsx/dist/cli.mjs'), join(ROOT, 'scripts', script), ...args],
  {
    stdio: 'inherit',
  },
);
process.exit(done.status ?? 1);
