import type { FigureOverlay } from './figure-overlay.ts';

/** What is drawn over a live picture: the figure, in pixels of a picture of this size. */
export interface FigureDrawing {
  readonly overlay: FigureOverlay;
  readonly widthPx: number;
  readonly heightPx: number;
}

/** A canvas that is drawn on elsewhere than on the page's own thread. */
export interface FigureSurface {
  show(drawing: FigureDrawing): void;
  /** Afterwards the canvas is of no use any more. */
  close(): void;
}

/** Takes a canvas for good; null where the browser cannot draw on it elsewhere: then the page draws. */
export type OpenFigureSurface = (canvas: HTMLCanvasElement) => FigureSurface | null;
