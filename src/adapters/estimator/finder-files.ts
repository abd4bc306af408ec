/** Files of models/manifest.json that the finder needs. The packed assets hold one file: the detector's network. */
export const FINDER_FILES = [
  'litert_wasm_compat_internal.js',
  'litert_wasm_compat_internal.wasm',
  'pose_solution_packed_assets.data',
] as const;
