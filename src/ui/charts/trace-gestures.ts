/** What a pointer asks of a trace; places across are CSS pixels from the chart's left edge. */
export interface TraceGestures {
  /** The pointer rests over the chart without pressing, or has left it (null). */
  readonly hover: (xPx: number | null) => void;
  /** Pressed or dragged: the cursor goes there. */
  readonly place: (xPx: number) => void;
  /** Wheel or pinch about a place; factor below 1 shows less time. */
  readonly zoom: (xPx: number, factor: number) => void;
  /** Sideways wheel or two-finger drag, pixels. */
  readonly pan: (byPx: number) => void;
}

const WHEEL_PX_PER_DOUBLING = 240;
/** Pinching a trackpad arrives as a wheel with Ctrl and small steps. */
const PINCH_PX_PER_DOUBLING = 60;

/**
 * Listens to mouse, pen, touch and wheel on the chart. The plain wheel zooms only while the chart has the keyboard
 * focus (or with Ctrl), so that a page can be scrolled past it. One finger places the cursor, two pinch; scrolling
 * the page up and down with one finger stays possible (touch-action: pan-y in the style). Returns the clean-up.
 */
export function listenToGestures(chart: HTMLElement, gestures: TraceGestures): () => void {
  const touches = new Map<number, number>();
  const across = (event: MouseEvent): number => event.clientX - chart.getBoundingClientRect().left;
  const spread = (): { middle: number; apart: number } | null => {
    const [one, two] = [...touches.values()];
    if (one === undefined || two === undefined) return null;
    return { middle: (one + two) / 2, apart: Math.max(24, Math.abs(one - two)) };
  };

  const down = (event: PointerEvent): void => {
    if (event.button !== 0) return;
    touches.set(event.pointerId, across(event));
    chart.setPointerCapture(event.pointerId);
    chart.focus({ preventScroll: true });
    gestures.hover(null);
    if (touches.size === 1) gestures.place(across(event));
  };
  const move = (event: PointerEvent): void => {
    if (!touches.has(event.pointerId)) {
      if (event.pointerType === 'mouse') gestures.hover(across(event));
      return;
    }
    const before = spread();
    touches.set(event.pointerId, across(event));
    const after = spread();
    if (before && after) {
      gestures.pan(before.middle - after.middle);
      gestures.zoom(after.middle, before.apart / after.apart);
    } else {
      gestures.place(across(event));
    }
  };
  const up = (event: PointerEvent): void => {
    touches.delete(event.pointerId);
  };
  const leave = (): void => {
    gestures.hover(null);
  };
  const wheel = (event: WheelEvent): void => {
    const sideways = Math.abs(event.deltaX) > Math.abs(event.deltaY) || event.shiftKey;
    const pinch = event.ctrlKey || event.metaKey;
    if (!pinch && !chart.matches(':focus')) return;
    event.preventDefault();
    if (sideways) gestures.pan(event.deltaX === 0 ? event.deltaY : event.deltaX);
    else {
      const perDoubling = pinch ? PINCH_PX_PER_DOUBLING : WHEEL_PX_PER_DOUBLING;
      gestures.zoom(across(event), 2 ** (event.deltaY / perDoubling));
    }
  };

  chart.addEventListener('pointerdown', down);
  chart.addEventListener('pointermove', move);
  chart.addEventListener('pointerup', up);
  chart.addEventListener('pointercancel', up);
  chart.addEventListener('pointerleave', leave);
  chart.addEventListener('wheel', wheel, { passive: false });
  return () => {
    chart.removeEventListener('pointerdown', down);
    chart.removeEventListener('pointermove', move);
    chart.removeEventListener('pointerup', up);
    chart.removeEventListener('pointercancel', up);
    chart.removeEventListener('pointerleave', leave);
    chart.removeEventListener('wheel', wheel);
  };
}
