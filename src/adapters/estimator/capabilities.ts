/**
 * A module with one SIMD instruction (i32x4.splat, drop): a browser without WebAssembly SIMD refuses it.
 * Bytes: header, type section () -> (), function section, code section "i32.const 0; i32x4.splat; drop".
 */
const SIMD_MODULE = new Uint8Array([
  0, 97, 115, 109, 1, 0, 0, 0, 1, 4, 1, 96, 0, 0, 3, 2, 1, 0, 10, 9, 1, 7, 0, 65, 0, 253, 17, 26, 11,
]);

/** What this browser can do for an estimator. */
export interface Capabilities {
  readonly simd: boolean;
  /** 'none' when there is no WebGL at all, 'software' when it is computed by the processor. */
  readonly webgl: 'none' | 'software' | 'gpu';
}

/** Names by which software renderers give themselves away. From memory of Chromium's and Mesa's renderer strings. */
const SOFTWARE = /swiftshader|llvmpipe|softpipe|software|basic render/i;

/** Looks what is there; makes no lasting context. */
export function detectCapabilities(): Capabilities {
  return {
    simd: hasSimd(),
    webgl: detectWebGl(),
  };
}

/** True where WebAssembly has SIMD, in a page or a worker. */
export function hasSimd(): boolean {
  return typeof WebAssembly === 'object' && WebAssembly.validate(SIMD_MODULE);
}

function detectWebGl(): Capabilities['webgl'] {
  const context = document.createElement('canvas').getContext('webgl2');
  if (context === null) return 'none';
  const info = context.getExtension('WEBGL_debug_renderer_info');
  const renderer: unknown = context.getParameter(
    info === null ? context.RENDERER : info.UNMASKED_RENDERER_WEBGL,
  );
  context.getExtension('WEBGL_lose_context')?.loseContext();
  return typeof renderer === 'string' && SOFTWARE.test(renderer) ? 'software' : 'gpu';
}
