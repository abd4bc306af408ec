/**
 * `npm run bench -- [--only networks|camera|clips]`: how fast pictures become numbers on this machine, side by side in one
 * run. Ends with 1 when a goal is missed.
 */
import { cpus } from 'node:os';
import { join } from 'node:path';
import { parseArgs } from 'node:util';
import { benchCamera } from './bench/camera.ts';
import { benchClips } from './bench/clips.ts';
import { benchNetworks, type Goal } from './bench/networks.ts';

const CLIP = join(import.meta.dirname, '..', 'demo-clips', 'free-curl-mirror.mp4');

const PARTS: Readonly<Record<string, () => Promise<Goal[]>>> = {
  networks: () => benchNetworks(CLIP),
  camera: benchCamera,
  clips: () => benchClips(CLIP),
};

const { values } = parseArgs({ options: { only: { type: 'string' } } });
const wanted = values.only === undefined ? Object.keys(PARTS) : [values.only];
const [processor] = cpus();
console.log(`${String(cpus().length)} cores, ${processor?.model ?? 'unknown processor'}\n`);
const goals: Goal[] = [];
for (const name of wanted) {
  const part = PARTS[name];
  if (part === undefined) {
    console.error(`There is no part "${name}": take one of ${Object.keys(PARTS).join(', ')}.`);
    process.exit(2);
  }
  console.log(`== ${name}`);
  goals.push(...(await part()));
  console.log('');
}
console.log('== goals');
for (const { text, isMet } of goals) console.log(`${isMet ? 'met   ' : 'MISSED'}  ${text}`);
process.exitCode = goals.every(({ isMet }) => isMet) ? 0 : 1;
