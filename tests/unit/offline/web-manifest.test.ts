import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { ROOT } from '../../../scripts/bootstrap.mjs';

interface Icon {
  readonly src: string;
  readonly sizes: string;
  readonly type: string;
  readonly purpose: string;
}

const manifest = JSON.parse(readFileSync(join(ROOT, 'public/site.webmanifest'), 'utf8'));
const icons: readonly Icon[] = manifest.icons;
const tokens = readFileSync(join(ROOT, 'src/ui/common/tokens.css'), 'utf8');
const token = (name: string): string | undefined =>
  new RegExp(`--${name}: (#[0-9a-f]{6});`).exec(tokens)?.[1];

/** Width and height out of a PNG's first chunk: PNG specification, section 11.2.2. */
function pngSize(path: string): string {
  const file = readFileSync(path);
  expect(file.subarray(1, 4).toString()).toBe('PNG');
  return `${String(file.readUInt32BE(16))}x${String(file.readUInt32BE(20))}`;
}

describe('the web app manifest', () => {
  it('has everything that browsers ask for before they offer to install', () => {
    expect(manifest).toMatchObject({
      name: 'Forearmed',
      short_name: 'Forearmed',
      id: './',
      start_url: './#/begin',
      scope: './',
      display: 'standalone',
    });
  });

  it('takes its colours from the tokens', () => {
    expect(manifest.background_color).toBe(token('ground'));
    expect(manifest.theme_color).toBe(token('accent'));
  });

  it('names icons that are there, each as large as it says, plain and maskable at 192 and 512 pixels', () => {
    const raster = icons.filter(({ type }) => type === 'image/png');
    for (const { src, sizes } of raster) expect(pngSize(join(ROOT, 'public', src))).toBe(sizes);
    for (const purpose of ['any', 'maskable'])
      expect(raster.filter((icon) => icon.purpose === purpose).map(({ sizes }) => sizes)).toEqual([
        '192x192',
        '512x512',
      ]);
  });

  it('is linked in the first page', () => {
    expect(readFileSync(join(ROOT, 'index.html'), 'utf8')).toContain(
      'rel="manifest" href="./site.webmanifest"',
    );
  });
});
