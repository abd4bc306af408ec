/** Longest side of a picture handed on, pixels: the network looks at 256, and more only costs time. */
const LONGEST_SIDE_PX = 1280;

/** The size to which a picture is scaled down, same shape; whole pixels, never scaled up. Both sides above 0. */
export function fitSize(width: number, height: number): { readonly width: number; readonly height: number } {
  const scale = Math.min(1, LONGEST_SIDE_PX / Math.max(width, height));
  return { width: Math.max(1, Math.round(width * scale)), height: Math.max(1, Math.round(height * scale)) };
}
