import { modelUrl } from './model-files.ts';

/**
 * A function of one relaxed SIMD instruction (i8x16.relaxed_swizzle), as the WebAssembly proposal encodes it: a browser
 * without relaxed SIMD refuses the module.
 */
const RELAXED_SIMD_MODULE = new Uint8Array([
  0, 97, 115, 109, 1, 0, 0, 0, 1, 5, 1, 96, 0, 1, 123, 3, 2, 1, 0, 10, 15, 1, 13, 0, 65, 1, 253, 15, 65, 2,
  253, 15, 253, 128, 2, 11,
]);

/**
 * Addresses of the files with which measuring starts in this browser, the most needed first: to be kept before anybody
 * asks, so that the next visit needs no network. The largest network and the library's own runtime are left out: they
 * are kept once they were used.
 */
export function urlsInAdvance(base: string): string[] {
  const build = WebAssembly.validate(RELAXED_SIMD_MODULE)
    ? 'litert_wasm_internal'
    : 'litert_wasm_compat_internal';
  return [
    `${build}.js`,
    `${build}.wasm`,
    'pose_solution_packed_assets.data',
    'pose_landmark_full.tflite',
    'pose_landmark_lite.tflite',
  ].map((name) => modelUrl(base, name));
}
