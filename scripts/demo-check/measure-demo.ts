import { spawn } from 'node:child_process';
import { join } from 'node:path';
import type { ClipTruth } from '../../demo-clips/generator/truth-schema.ts';

/** Measures a demo clip unattended into a folder; rejects when it cannot be. */
export function measureDemo(root: string, name: string, folder: string, truth: ClipTruth): Promise<void> {
  return measureClip(root, join(root, 'demo-clips', `${name}.mp4`), folder, truth);
}

/** The same for a clip that was made from a demo clip and has its truth. */
export function measureClip(root: string, clip: string, folder: string, truth: ClipTruth): Promise<void> {
  const args = [clip, '--exercise', truth.exercise, '--side', truth.side];
  const options = ['--stature-cm', String(truth.statureCm), '--workers', '1', '--out', folder];
  const child = spawn(
    process.execPath,
    ['--import', 'tsx', join(root, 'scripts/measure.ts'), ...args, ...options],
    { stdio: ['ignore', 'ignore', 'inherit'] },
  );
  return new Promise((done, fail) => {
    child.on('exit', (code) => {
      console.log(`measured ${clip}`);
      if (code === 0) done();
      else fail(new Error(`${clip} could not be measured.`));
    });
  });
}
