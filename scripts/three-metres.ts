/**
 * `npm run three-metres [-- --out DIR --only hold|curl]`: walks two sessions of a plan in the real browser by keyboard, from their link to the
 * end, with the figure of a demo clip before the camera, and tells of each state that is read from three metres how large its
 * figures and cues are, in arc minutes at that distance, and their contrast in both themes. Photographs every state at a
 * laptop's, a phone's upright and lying, and a wide window. Ends with 1 where a goal is missed.
 */
import { mkdirSync } from 'node:fs';
import { join, resolve } from 'node:path';
import { parseArgs } from 'node:util';
import { openApp } from '../tests/browser/ui-begin-live/open-app.ts';
import { walkCurlSession, walkHoldSession } from '../tests/helpers/session-walk.ts';
import { ROOT } from './bootstrap.mjs';
import { lookerOf } from './three-metres/look-at-state.ts';
import { tableOf, type Reading } from './three-metres/visual-angle.ts';

const { values } = parseArgs({
  options: {
    out: { type: 'string', default: join(ROOT, 'out/three-metres') },
    only: { type: 'string' },
  },
});
const out = resolve(process.env['INIT_CWD'] ?? process.cwd(), values.out);
mkdirSync(out, { recursive: true });

const readings: Reading[] = [];
const app = await openApp(['--use-fake-ui-for-media-stream']);
for (const [name, walk] of Object.entries({ hold: walkHoldSession, curl: walkCurlSession })) {
  if (values.only !== undefined && values.only !== name) continue;
  const { page, context } = await app.openPage({ viewport: { width: 1280, height: 720 } });
  await walk(page, app.url, lookerOf(page, readings, out));
  await context.close();
}
await app.close();

const { text, isMissed } = tableOf(readings);
console.log(text);
console.log(`Pictures of each state in ${out}`);
process.exit(isMissed ? 1 : 0);
