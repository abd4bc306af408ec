import { type CompiledModel, getGlobalLiteRt, loadAndCompile, Tensor } from '@litertjs/core';
import { runtimeMemory } from './litert-runtime.ts';

/** Where a network computes. */
export type Accelerator = 'wasm' | 'webgpu';

/** What came of a run, and how long the network took. */
export interface NetworkRun<T> {
  readonly result: T;
  readonly networkMs: number;
}

/** A network with one picture as input, which is written in place and never copied. */
export interface Network {
  /**
   * Has the input written by `fill`, computes, and hands the outputs to `read`, by the number of their values.
   * The views handed over are the runtime's own memory: they are valid during the call only.
   */
  run<T>(
    fill: (input: Float32Array) => void,
    read: (output: (size: number) => Float32Array) => T,
  ): Promise<NetworkRun<T>>;
  dispose(): void;
}

/**
 * Compiles a network whose input is side x side x 3. `wanted` are the sizes of the outputs that will be read: others
 * are never copied. Rejects when the file is not such a network, or when the accelerator cannot run all of it.
 */
export async function createNetwork(
  file: ArrayBuffer,
  side: number,
  wanted: readonly number[],
  accelerator: Accelerator,
): Promise<Network> {
  const model = await loadAndCompile(new Uint8Array(file), { accelerator });
  if (model.options.accelerator !== accelerator || (accelerator === 'webgpu' && !model.isFullyAccelerated)) {
    model.delete();
    throw new Error('createNetwork: the graphics processor cannot run all of the network.');
  }
  const input = new Tensor(new Float32Array(side * side * 3), [1, side, side, 3]);
  return {
    async run(fill, read) {
      withMemory(input, 'WRITE', fill);
      const from = performance.now();
      const outputs = await runOn(model, input, accelerator, wanted);
      const networkMs = performance.now() - from;
      try {
        return { result: readAll(outputs, read), networkMs };
      } finally {
        for (const output of outputs) output.delete();
      }
    },
    dispose() {
      input.delete();
      model.delete();
    },
  };
}

async function runOn(
  model: CompiledModel,
  input: Tensor,
  accelerator: Accelerator,
  wanted: readonly number[],
): Promise<Tensor[]> {
  const outputs = await model.run(input);
  if (accelerator === 'wasm') return outputs;
  // Only what will be read comes back from the graphics processor; the segmentation stays there.
  return Promise.all(
    outputs.map((output) => (wanted.includes(sizeOf(output)) ? output.moveTo('wasm') : output)),
  );
}

function readAll<T>(outputs: readonly Tensor[], read: (output: (size: number) => Float32Array) => T): T {
  const locked: Tensor[] = [];
  try {
    return read((size) => {
      const output = outputs.find((one) => sizeOf(one) === size);
      if (output === undefined) throw new Error(`The network has no output of ${String(size)} values.`);
      const view = viewOf(output, 'READ');
      locked.push(output);
      return view;
    });
  } finally {
    for (const output of locked) output.liteRtTensorBuffer.unlock();
  }
}

function withMemory(tensor: Tensor, mode: 'READ' | 'WRITE', use: (view: Float32Array) => void): void {
  const view = viewOf(tensor, mode);
  try {
    use(view);
  } finally {
    tensor.liteRtTensorBuffer.unlock();
  }
}

/** The tensor's place in the runtime's memory; to be unlocked after use. */
function viewOf(tensor: Tensor, mode: 'READ' | 'WRITE'): Float32Array {
  const address = tensor.liteRtTensorBuffer.lock(
    getGlobalLiteRt().liteRtWasm.LiteRtTensorBufferLockMode[mode],
  );
  return new Float32Array(runtimeMemory().buffer, address, sizeOf(tensor));
}

function sizeOf({ type }: Tensor): number {
  return Array.from(type.layout.dimensions).reduce((product, side) => product * side, 1);
}
