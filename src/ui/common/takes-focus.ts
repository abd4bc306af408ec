/**
 * The heading of what has come in another one's place takes the focus: the control that led here is gone, and whoever hears
 * the screen is told what comes now. For attaching to the element around it.
 */
export function takesFocus(around: HTMLElement): void {
  const heading = around.querySelector<HTMLElement>('h2, legend');
  if (heading === null) return;
  heading.tabIndex = -1;
  heading.focus({ preventScroll: true });
}
