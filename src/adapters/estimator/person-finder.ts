import { type CompiledModel, loadAndCompile, loadLiteRt, Tensor } from '@litertjs/core';
import {
  decodePeople,
  DETECTOR_INPUT_PX,
  type DetectedPerson,
  letterbox,
} from '../../core/pose/person-detector.ts';
import type { Picture } from '../../core/pose/pose-estimator.ts';
import type { ModelFiles } from './model-files.ts';
import { pictureSize } from './picture-size.ts';

/** Finds everybody in a picture. The tracker follows one person only and does not say whether there are more. */
export interface PersonFinder {
  find(picture: Picture): Promise<readonly DetectedPerson[]>;
  dispose(): void;
}

let runtime: Promise<unknown> | null = null;

/** Makes a finder that computes on the CPU. Rejects when its runtime or network does not load. */
export async function createPersonFinder(files: ModelFiles): Promise<PersonFinder> {
  runtime ??= loadRuntime(files);
  await runtime;
  const network = await loadAndCompile(
    new Uint8Array(await files.bytes('pose_solution_packed_assets.data')),
    { accelerator: 'wasm' },
  );
  const square = new OffscreenCanvas(DETECTOR_INPUT_PX, DETECTOR_INPUT_PX);
  const context = square.getContext('2d', { willReadFrequently: true });
  if (context === null) throw new Error('createPersonFinder: no 2D canvas.');
  const input = new Float32Array(DETECTOR_INPUT_PX * DETECTOR_INPUT_PX * 3);

  return {
    async find(picture) {
      const { widthPx, heightPx } = pictureSize(picture);
      const fitted = letterbox(widthPx, heightPx);
      context.fillStyle = 'black';
      context.fillRect(0, 0, DETECTOR_INPUT_PX, DETECTOR_INPUT_PX);
      const width = widthPx * fitted.scale;
      const height = heightPx * fitted.scale;
      context.drawImage(picture, fitted.left, fitted.top, width, height);
      const pixels = context.getImageData(0, 0, DETECTOR_INPUT_PX, DETECTOR_INPUT_PX).data;
      normalise(pixels, input);
      const { boxes, scores } = await run(network, input);
      return decodePeople(boxes, scores, fitted);
    },
    dispose: () => network.delete(),
  };
}

/** The runtime's loader reads where its wasm lies from the global `Module`, and takes a script only by its ending. */
async function loadRuntime(files: ModelFiles): Promise<unknown> {
  const wasm = files.url('litert_wasm_compat_internal.wasm');
  self.Module = { locateFile: () => wasm };
  return loadLiteRt(`${files.url('litert_wasm_compat_internal.js')}#.js`);
}

/** RGBA bytes to RGB between -1 and 1, as the network was trained. */
function normalise(pixels: Uint8ClampedArray, input: Float32Array): void {
  for (let from = 0, to = 0; from < pixels.length; from += 4) {
    input[to++] = (pixels[from] ?? 0) / 127.5 - 1;
    input[to++] = (pixels[from + 1] ?? 0) / 127.5 - 1;
    input[to++] = (pixels[from + 2] ?? 0) / 127.5 - 1;
  }
}

async function run(
  network: CompiledModel,
  input: Float32Array,
): Promise<{ boxes: Float32Array; scores: Float32Array }> {
  const tensor = Tensor.fromTypedArray(input, [1, DETECTOR_INPUT_PX, DETECTOR_INPUT_PX, 3]);
  const outputs = await network.run(tensor);
  const values = outputs.map((output) => Float32Array.from(output.toTypedArray()));
  for (const used of [tensor, ...outputs]) used.delete();
  const [first, second] = values;
  if (first === undefined || second === undefined) throw new Error('PersonFinder: two outputs expected.');
  // By size, because the order of outputs is no part of the network's contract.
  return first.length > second.length ? { boxes: first, scores: second } : { boxes: second, scores: first };
}
