import type { FigureDrawing, OpenFigureSurface } from '../../core/pose/figure-surface.ts';

/** What a figure worker is told: first its canvas, then what to draw. */
export type ToFigureWorker = { readonly canvas: OffscreenCanvas } | FigureDrawing;

/** Surfaces that a worker draws on: a canvas that the page redraws for every picture costs it more than measuring does. */
export function figureSurfaces(spawn: () => Worker): OpenFigureSurface {
  return (canvas) => {
    if (!('transferControlToOffscreen' in canvas)) return null;
    const offscreen = canvas.transferControlToOffscreen();
    const worker = spawn();
    worker.postMessage({ canvas: offscreen } satisfies ToFigureWorker, [offscreen]);
    return {
      show: (drawing) => worker.postMessage(drawing satisfies ToFigureWorker),
      close: () => worker.terminate(),
    };
  };
}
