import { getGlobalLiteRt, loadLiteRt, supportsFeature } from '@litertjs/core';
import { modelUrl } from './model-files.ts';

/** The files of one build of the runtime, by their names in models/manifest.json. */
export interface RuntimeFiles {
  readonly loader: string;
  readonly wasm: string;
}

/** Makes the runtime's module; what the loader script hands over. */
type ModuleFactory = (module: object) => Promise<object>;

declare global {
  /** Read by the runtime's own loading; see provideFactory. */
  var ModuleFactory: ModuleFactory | undefined;
  var importScripts: (() => void) | undefined;
  var define: ((needs: readonly string[], make: () => ModuleFactory) => void) | undefined;
}

const RELAXED: RuntimeFiles = { loader: 'litert_wasm_internal.js', wasm: 'litert_wasm_internal.wasm' };
const COMPATIBLE: RuntimeFiles = {
  loader: 'litert_wasm_compat_internal.js',
  wasm: 'litert_wasm_compat_internal.wasm',
};

/** The build that this browser can run: the faster one needs relaxed SIMD. */
export async function runtimeFiles(): Promise<RuntimeFiles> {
  return (await supportsFeature('relaxedSimd')) ? RELAXED : COMPATIBLE;
}

let loading: Promise<void> | null = null;

/**
 * Loads the runtime into this module worker, once. The files must have been checked before (model-files.ts): they are
 * asked for again by their address, and come from the browser's store.
 */
export function loadRuntimeInWorker(base: string, files: RuntimeFiles): Promise<void> {
  loading ??= load(base, files);
  return loading;
}

async function load(base: string, { loader, wasm }: RuntimeFiles): Promise<void> {
  globalThis.ModuleFactory = await factoryOf(modelUrl(base, loader));
  const wasmUrl = modelUrl(base, wasm);
  const settings = {
    locateFile: () => wasmUrl,
    // The runtime tells the console about every tensor of every network; its errors are thrown as well.
    print: () => undefined,
    printErr: () => undefined,
  };
  self.Module = settings;
  // The package loads its script by importScripts, which throws in module workers. It has been run already.
  const inherited = globalThis.importScripts;
  globalThis.importScripts = () => undefined;
  try {
    // The address is not used any more; the package wants one that ends like a script.
    await loadLiteRt('.js');
  } finally {
    globalThis.importScripts = inherited;
  }
}

/**
 * Runs the loader script as a module and takes the factory that it offers. It is written for scripts, where it would be
 * a global variable, and for the AMD convention, which works in a module too.
 */
async function factoryOf(url: string): Promise<ModuleFactory> {
  let factory: ModuleFactory | null = null;
  const define = (_needs: readonly string[], make: () => ModuleFactory): void => {
    factory = make();
  };
  globalThis.define = Object.assign(define, { amd: true });
  try {
    await import(/* @vite-ignore */ url);
  } finally {
    globalThis.define = undefined;
  }
  if (factory === null) throw new Error('The loader of the pose runtime offered nothing.');
  return factory;
}

/** The runtime's memory. Taken anew for each use: it moves when it grows. */
export function runtimeMemory(): Uint8Array {
  return getGlobalLiteRt().liteRtWasm.HEAPU8;
}
