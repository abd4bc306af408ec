import { readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import type { Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import manifest from '../../../models/manifest.json' with { type: 'json' };
import type { Sighting } from '../../../src/core/pose/pose-estimator.ts';
import { openSourceBrowser, type SourceBrowser } from '../../helpers/source-browser.ts';

const MODULE = '/tests/campaign/estimator/in-page.ts';
const CLIP = '/clips/hold.mp4';
const clipPath = fileURLToPath(new URL('../../../demo-clips/hold-drift.mp4', import.meta.url));
const modelPath = (name: string) => fileURLToPath(new URL(`../../../models/files/${name}`, import.meta.url));

/** Pictures of the clip that are looked at: more than a second, so that the finder looks three times. */
const PICTURES = 33;

let browser: SourceBrowser;
beforeAll(async () => {
  browser = await openSourceBrowser();
});
afterAll(() => browser.close());

async function openPage(): Promise<Page> {
  const page = await browser.openPage(MODULE);
  await page.route(`**${CLIP}`, (route) =>
    route.fulfill({ body: readFileSync(clipPath), contentType: 'video/mp4' }),
  );
  return page;
}

/** Middle of the hips (landmarks 23 and 24 of the BlazePose topology), pixels from the left. */
const hipX = (sighting: Sighting | undefined): number => {
  const [left, right] = [sighting?.pose?.image[23], sighting?.pose?.image[24]];
  if (left === undefined || right === undefined) throw new Error('nobody was seen');
  return (left.x + right.x) / 2;
};

describe('following one person', () => {
  let page: Page;
  let first: readonly Sighting[];

  beforeAll(async () => {
    page = await openPage();
    expect(await page.evaluate(() => window.estimatorPage.start())).toBe('ok');
    first = await page.evaluate(([url, count]) => window.estimatorPage.run(url, count, false), [
      CLIP,
      PICTURES,
    ] as const);
  });
  afterAll(() => page.close());

  it('names the network by the hash of its file', async () => {
    const identity = await page.evaluate(() => window.estimatorPage.identity());
    const stated = manifest.files.find(({ name }) => name === 'pose_landmark_full.tflite');
    expect(identity).toMatchObject({ model: 'blazepose-full', modelSha256s: [stated?.sha256] });
  });

  it('sees one person with 33 landmarks, in pixels and in metres, in every picture', () => {
    expect(first).toHaveLength(PICTURES);
    for (const { pose, people } of first) {
      expect(people).toBe(1);
      expect(pose?.image).toHaveLength(33);
      expect(pose?.world).toHaveLength(33);
    }
  });

  it('gives exactly the same landmarks again after it was made to forget', async () => {
    const again = await page.evaluate(([url, count]) => window.estimatorPage.run(url, count, true), [
      CLIP,
      PICTURES,
    ] as const);
    expect(again).toEqual(first);
  });

  it('really searches afresh after forgetting: as a new estimator would, not as one that still follows', async () => {
    const left = { places: [0] };
    const right = { places: [0.5] };
    const show = (scenes: readonly ({ readonly places: readonly number[] } | 'forget')[]) =>
      page.evaluate(([url, all]) => window.estimatorPage.show(url, all), [CLIP, scenes] as const);
    const [fresh] = await show(['forget', right]);
    const forgotten = await show(['forget', left, left, left, 'forget', right]);
    const stillFollowing = await show(['forget', left, left, left, right]);
    expect(hipX(fresh) - hipX(forgotten[0])).toBeGreaterThan(200);
    expect(forgotten[3]).toEqual(fresh);
    expect(stillFollowing[3]?.pose).not.toEqual(fresh?.pose);
  });

  it('forgets in less than a second, where rebuilding the graph takes several', async () => {
    expect(await page.evaluate((url) => window.estimatorPage.forgetMs(url), CLIP)).toBeLessThan(1000);
  });

  it('counts two people, one, and nobody', async () => {
    const seen = await page.evaluate(
      ([url]) =>
        window.estimatorPage.show(url, [
          'forget',
          { places: [0, 0.5] },
          'forget',
          { places: [0.25] },
          'forget',
          { places: [] },
        ]),
      [CLIP] as const,
    );
    expect(seen.map(({ people }) => people)).toEqual([2, 1, 0]);
    expect(seen[2]?.pose).toBeNull();
  });
});

describe('an estimator that cannot start', () => {
  it.each(['pose_landmark_full.tflite', 'pose_solution_simd_wasm_bin.wasm', 'pose.js'])(
    'says that a model file is damaged when one bit of %s is another',
    async (name) => {
      const page = await openPage();
      const damaged = readFileSync(modelPath(name));
      const middle = damaged.length >> 1;
      damaged.writeUInt8(damaged.readUInt8(middle) ^ 1, middle);
      await page.route(`**/models/${name}*`, (route) => route.fulfill({ body: damaged }));
      expect(await page.evaluate(() => window.estimatorPage.start())).toBe('model-damaged');
      await page.close();
    },
  );

  it('says that a model file is missing', async () => {
    const page = await openPage();
    await page.route('**/models/pose_web.binarypb*', (route) => route.fulfill({ status: 404 }));
    expect(await page.evaluate(() => window.estimatorPage.start())).toBe('model-missing');
    await page.close();
  });

  it('measures on without the person finder, and does not count', async () => {
    const page = await openPage();
    await page.route('**/models/litert_wasm_compat_internal.wasm*', (route) =>
      route.fulfill({ status: 404 }),
    );
    expect(await page.evaluate(() => window.estimatorPage.start())).toBe('ok');
    const [seen] = await page.evaluate((url) => window.estimatorPage.run(url, 1, false), CLIP);
    expect(seen?.people).toBeNull();
    expect(seen?.pose).not.toBeNull();
    await page.close();
  });

  it('says that WebAssembly SIMD or WebGL is missing where it is', async () => {
    const withoutGl = await openSourceBrowser(['--disable-3d-apis']);
    try {
      const page = await withoutGl.openPage(MODULE);
      expect(await page.evaluate(() => window.estimatorPage.start())).toBe('no-webgl');
      // No switch of today's browsers takes SIMD away: the browser's own check is answered as by one without it.
      await page.evaluate(() => {
        WebAssembly.validate = () => false;
      });
      expect(await page.evaluate(() => window.estimatorPage.start())).toBe('no-simd');
    } finally {
      await withoutGl.close();
    }
  });
});
