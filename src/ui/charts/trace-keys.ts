/** What a key asks of a trace. */
export type TraceCommand =
  | { readonly kind: 'step'; readonly frames: number }
  | { readonly kind: 'page'; readonly direction: 1 | -1 }
  | { readonly kind: 'start' }
  | { readonly kind: 'end' }
  | { readonly kind: 'zoom'; readonly factor: number }
  | { readonly kind: 'whole' }
  | { readonly kind: 'flag'; readonly direction: 1 | -1 }
  | { readonly kind: 'table' };

/** How much a press of + or - zooms. */
export const ZOOM_STEP = 1.5;
/** Frames that an arrow key steps while Shift is held. */
const STRIDE_FRAMES = 10;

/** The keys and what they do, as they are listed under the chart. */
export const TRACE_KEYS: readonly { readonly keys: string; readonly does: string }[] = [
  { keys: 'Left, Right', does: 'one frame back or on; with Shift ten' },
  { keys: 'Page Up, Page Down', does: 'a tenth of the shown time on or back' },
  { keys: 'Home, End', does: 'first or last frame' },
  { keys: '+, −, 0', does: 'zoom in, zoom out, the whole set' },
  { keys: 'F, Shift+F', does: 'next or previous flag' },
  { keys: 'T', does: 'the same data as a table' },
];

/** The command of a key press, or null for keys that mean nothing here (and for those of browser and system). */
export function traceCommand(event: {
  readonly key: string;
  readonly shiftKey: boolean;
  readonly ctrlKey: boolean;
  readonly metaKey: boolean;
  readonly altKey: boolean;
}): TraceCommand | null {
  if (event.ctrlKey || event.metaKey || event.altKey) return null;
  const frames = event.shiftKey ? STRIDE_FRAMES : 1;
  switch (event.key) {
    case 'ArrowRight':
    case 'ArrowUp':
      return { kind: 'step', frames };
    case 'ArrowLeft':
    case 'ArrowDown':
      return { kind: 'step', frames: -frames };
    case 'PageUp':
      return { kind: 'page', direction: 1 };
    case 'PageDown':
      return { kind: 'page', direction: -1 };
    case 'Home':
      return { kind: 'start' };
    case 'End':
      return { kind: 'end' };
    case '+':
    case '=':
      return { kind: 'zoom', factor: 1 / ZOOM_STEP };
    case '-':
    case '_':
      return { kind: 'zoom', factor: ZOOM_STEP };
    case '0':
      return { kind: 'whole' };
    case 'f':
    case 'F':
      return { kind: 'flag', direction: event.shiftKey ? -1 : 1 };
    case 't':
    case 'T':
      return { kind: 'table' };
    default:
      return null;
  }
}
