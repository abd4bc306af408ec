/** Letters are measured at this size, pixels: large enough that rounding does not count. */
const MEASURED_PX = 100;
const widths = new Map<string, number>();
let pen: CanvasRenderingContext2D | null = null;

/**
 * Width of words in the figure face of this machine, in heights of its letters (em): with it, words are set as large as
 * their box allows in any face. Each word is measured once.
 */
export function widthOfWords(words: string, weight: 500 | 600): number {
  const key = `${weight} ${words}`;
  const known = widths.get(key);
  if (known !== undefined) return known;
  pen ??= document.createElement('canvas').getContext('2d');
  if (pen === null) return words.length;
  const face = getComputedStyle(document.documentElement).getPropertyValue('--figure-face');
  pen.font = `${weight} ${MEASURED_PX}px ${face}`;
  const width = pen.measureText(words).width / MEASURED_PX;
  widths.set(key, width);
  return width;
}
