/**
 * Where a control that has the focus goes away, the screen's heading takes it: whoever works by key or hears the screen is
 * not sent back to the page's beginning. For attaching to the element around heading and controls.
 */
export function keepsFocus(around: HTMLElement): () => void {
  let last: Element | null = null;
  const note = ({ target }: FocusEvent): void => {
    last = target instanceof Element ? target : null;
  };
  const observer = new MutationObserver(() => {
    // What came in its place may have taken the focus already.
    if (last === null || last.isConnected || document.activeElement !== document.body) return;
    last = null;
    around.querySelector('h1')?.focus({ preventScroll: true });
  });
  around.addEventListener('focusin', note);
  observer.observe(around, { childList: true, subtree: true });
  return () => {
    around.removeEventListener('focusin', note);
    observer.disconnect();
  };
}
