/** Takes the focus when it appears: what one had pressed before is gone, and whoever hears the page must hear what came. */
export function focused(heading: HTMLElement): void {
  heading.focus();
}
