import type { Page } from 'playwright-core';

/** A piece of text as it is drawn: height of its capitals or digits, and its contrast with what is behind it. */
export interface DrawnText {
  readonly words: string;
  readonly heightPx: number;
  readonly contrast: number;
}

/** The texts that a selector finds and that are seen, as the browser draws them. */
export function readTexts(page: Page, selector: string): Promise<DrawnText[]> {
  return page.evaluate((wanted) => {
    const pen = document.createElement('canvas').getContext('2d', { willReadFrequently: true });
    if (pen === null) return [];
    const channels = (colour: string): [number, number, number, number] => {
      pen.clearRect(0, 0, 1, 1);
      pen.fillStyle = colour;
      pen.fillRect(0, 0, 1, 1);
      const [r = 0, g = 0, b = 0, a = 0] = pen.getImageData(0, 0, 1, 1).data;
      return [r, g, b, a];
    };
    const luminance = (colour: string): number => {
      const [r, g, b] = channels(colour).map((channel) => {
        const share = channel / 255;
        return share <= 0.04045 ? share / 12.92 : ((share + 0.055) / 1.055) ** 2.4;
      });
      return 0.2126 * (r ?? 0) + 0.7152 * (g ?? 0) + 0.0722 * (b ?? 0);
    };
    const groundOf = (element: Element): string => {
      for (let at: Element | null = element; at !== null; at = at.parentElement) {
        const { backgroundColor } = getComputedStyle(at);
        if (channels(backgroundColor)[3] === 255) return backgroundColor;
      }
      return 'white';
    };
    return [...document.querySelectorAll(wanted)].flatMap((element) => {
      const words = (element.textContent ?? '').trim().replace(/\s+/g, ' ');
      const box = element.getBoundingClientRect();
      if (words === '' || box.width < 2 || box.height < 2) return [];
      const style = getComputedStyle(element);
      pen.font = `${style.fontWeight} ${style.fontSize} ${style.fontFamily}`;
      const heightPx = pen.measureText(/\d/.test(words) ? '0' : 'H').actualBoundingBoxAscent;
      const [ink, ground] = [luminance(style.color), luminance(groundOf(element))];
      const contrast = (Math.max(ink, ground) + 0.05) / (Math.min(ink, ground) + 0.05);
      return [{ words, heightPx, contrast }];
    });
  }, selector);
}
