import type { DrawnJoint, FigureOverlay } from '../../core/pose/figure-overlay.ts';

/** A canvas of the page or of a worker. */
type Context2D = CanvasRenderingContext2D | OffscreenCanvasRenderingContext2D;

/** Line weight and joint size in shares of the picture's longer side: seen from three metres, and not in the way. */
const LINE_SHARE = 0.008;
const JOINT_SHARE = 0.013;

/** A light line with a dark edge shows on any picture, in both themes. */
const LIGHT = '#ffffff';
const DARK = '#10201c';

/** Draws the treated arm and the trunk on a picture already painted on the context, in the picture's own pixels. */
export function drawFigure(context: Context2D, figure: FigureOverlay, longSidePx: number): void {
  const { shoulder, elbow, wrist, hip } = figure;
  const line = longSidePx * LINE_SHARE;
  context.lineCap = 'round';
  const bones = [
    [hip, shoulder],
    [shoulder, elbow],
    [elbow, wrist],
  ] as const;
  for (const [from, to] of bones) {
    if (from !== null && to !== null) drawBone(context, from, to, line);
  }
  for (const joint of [hip, shoulder, elbow, wrist]) {
    if (joint !== null) drawJoint(context, joint, longSidePx * JOINT_SHARE, line / 2);
  }
}

function drawBone(context: Context2D, from: DrawnJoint, to: DrawnJoint, width: number): void {
  const isMeasured = from.certainty === 'measured' && to.certainty === 'measured';
  context.setLineDash(isMeasured ? [] : [width * 2, width * 2]);
  for (const [colour, weight] of [
    [DARK, width * 1.9],
    [LIGHT, width],
  ] as const) {
    context.beginPath();
    context.moveTo(from.x, from.y);
    context.lineTo(to.x, to.y);
    context.strokeStyle = colour;
    context.lineWidth = weight;
    context.stroke();
  }
  context.setLineDash([]);
}

function drawJoint(context: Context2D, joint: DrawnJoint, radius: number, edge: number): void {
  context.beginPath();
  context.arc(joint.x, joint.y, radius, 0, 2 * Math.PI);
  if (joint.certainty === 'measured') {
    context.fillStyle = LIGHT;
    context.fill();
    context.strokeStyle = DARK;
    context.lineWidth = edge;
    context.stroke();
    return;
  }
  for (const [colour, weight] of [
    [DARK, edge * 3],
    [LIGHT, edge * 1.5],
  ] as const) {
    context.strokeStyle = colour;
    context.lineWidth = weight;
    context.stroke();
  }
}
