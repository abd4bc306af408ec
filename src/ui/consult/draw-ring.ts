import type { DrawnJoint } from '../../core/pose/figure-overlay.ts';

/** Radius and line in shares of the picture's longer side: seen from three metres, and the joint stays free. */
const RADIUS_SHARE = 0.045;
const LINE_SHARE = 0.008;

/** A ring round a joint that is pointed out: light, with a dark edge on both sides. Draws nothing for a joint that is not there. */
export function drawRing(
  context: CanvasRenderingContext2D,
  joint: DrawnJoint | null,
  longSidePx: number,
): void {
  if (joint === null) return;
  const line = longSidePx * LINE_SHARE;
  for (const [colour, width] of [
    ['#10201c', line * 2],
    ['#ffd98f', line],
  ] as const) {
    context.beginPath();
    context.arc(joint.x, joint.y, longSidePx * RADIUS_SHARE, 0, 2 * Math.PI);
    context.strokeStyle = colour;
    context.lineWidth = width;
    context.stroke();
  }
}
