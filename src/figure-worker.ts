import type { ToFigureWorker } from './adapters/screen/figure-surface.ts';
import { drawFigure } from './ui/live/draw-figure.ts';

/** Longest side of the drawing, pixels: lines drawn finer than this are not seen finer, and cost. */
const LONGEST_SIDE_PX = 720;

/** The worker that draws the figure over a live picture. */
let canvas: OffscreenCanvas | null = null;

self.addEventListener('message', ({ data }: MessageEvent<ToFigureWorker>) => {
  if ('canvas' in data) {
    canvas = data.canvas;
    return;
  }
  const context = canvas?.getContext('2d');
  if (canvas === null || !context) return;
  const { overlay, widthPx, heightPx } = data;
  const scale = Math.min(1, LONGEST_SIDE_PX / Math.max(widthPx, heightPx));
  const width = Math.round(widthPx * scale);
  const height = Math.round(heightPx * scale);
  if (canvas.width !== width || canvas.height !== height) Object.assign(canvas, { width, height });
  context.setTransform(1, 0, 0, 1, 0, 0);
  context.clearRect(0, 0, width, height);
  context.scale(width / widthPx, height / heightPx);
  drawFigure(context, overlay, Math.max(widthPx, heightPx));
});
