/** `npm run campaign`: the tests in a real browser that take too long for every `npm test`. */
import { join } from 'node:path';
import { ensureReady, ROOT, run } from './bootstrap.mjs';
import { ensureBrowser } from './ensure-browser.mjs';

ensureReady();
ensureBrowser();
run(
  process.execPath,
  [join(ROOT, 'node_modules/vitest/vitest.mjs'), 'run', '--project', 'campaign', ...process.argv.slice(2)],
  'Some of the tests failed. The lines above say which.',
);
