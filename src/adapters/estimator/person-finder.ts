import { loadLiteRt } from '@litertjs/core';
import type { DetectedPerson } from '../../core/pose/person-detector.ts';
import type { Picture } from '../../core/pose/pose-estimator.ts';
import { createDetector, DETECTOR_FILE, findPeople } from './find-people.ts';
import type { ModelFiles } from './model-files.ts';
import { pictureSize } from './picture-size.ts';

/** Finds everybody in a picture. The tracker follows one person only and does not say whether there are more. */
export interface PersonFinder {
  find(picture: Picture): Promise<readonly DetectedPerson[]>;
  dispose(): void;
}

let runtime: Promise<unknown> | null = null;

/** Longest side of the copy in which people are looked for, pixels: the detector sees less. */
const COPY_PX = 448;

/** Makes a finder that computes on the CPU. Rejects when its runtime or network does not load. */
export async function createPersonFinder(files: ModelFiles): Promise<PersonFinder> {
  runtime ??= loadRuntime(files);
  await runtime;
  const detector = await createDetector(await files.bytes(DETECTOR_FILE));
  const canvas = new OffscreenCanvas(1, 1);
  const context = canvas.getContext('2d', { willReadFrequently: true });
  if (context === null) throw new Error('createPersonFinder: no 2D canvas.');

  return {
    async find(picture) {
      const { widthPx, heightPx } = pictureSize(picture);
      const scale = Math.min(1, COPY_PX / Math.max(widthPx, heightPx));
      const columns = Math.max(1, Math.round(widthPx * scale));
      const rows = Math.max(1, Math.round(heightPx * scale));
      if (canvas.width !== columns || canvas.height !== rows)
        Object.assign(canvas, { width: columns, height: rows });
      context.drawImage(picture, 0, 0, columns, rows);
      const pixels = context.getImageData(0, 0, columns, rows).data;
      const copy = { kind: 'rgb', redAt: 0, pixels, columns, rows, widthPx, heightPx } as const;
      return (await findPeople(detector, copy)).result;
    },
    dispose: () => detector.dispose(),
  };
}

/** The runtime's loader reads where its wasm lies from the global `Module`, and takes a script only by its ending. */
async function loadRuntime(files: ModelFiles): Promise<unknown> {
  const wasm = files.url('litert_wasm_compat_internal.wasm');
  self.Module = { locateFile: () => wasm };
  return loadLiteRt(`${files.url('litert_wasm_compat_internal.js')}#.js`);
}
