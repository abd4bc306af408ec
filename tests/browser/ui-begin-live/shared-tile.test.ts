import type { Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { shareTwoTiles } from '../../helpers/shared-canvas.ts';
import { axeFindings, openApp, type OpenApp } from './open-app.ts';

let app: OpenApp;
let page: Page;
beforeAll(async () => {
  app = await openApp([]);
  ({ page } = await app.openPage());
  await shareTwoTiles(page, ['demo-clips/free-curl-mirror.mp4', 'demo-clips/hold-drift.mp4']);
  await page.reload();
  await page.getByRole('radio', { name: 'Your right arm' }).check();
  await page.getByRole('radio', { name: 'A shared window' }).check();
  await page.getByRole('button', { name: 'Share a window' }).click();
  await page.getByRole('button', { name: 'Frame a person' }).click();
  await page.getByRole('button', { name: 'Measure this part' }).waitFor();
});
afterAll(async () => {
  expect(app.foreignRequests()).toEqual([]);
  expect(app.policyViolations()).toEqual([]);
  await app.close();
});

const frameIs = (words: string): Promise<void> =>
  page.getByRole('button', { name: `The frame: ${words}` }).waitFor();

describe('framing a person in a shared window', () => {
  it('is done by arrow keys alone, and every change is said', async () => {
    await page.getByRole('button', { name: 'Corner top left' }).focus();
    for (let i = 0; i < 5; i += 1) await page.keyboard.press('Shift+ArrowRight');
    await page.keyboard.press('ArrowDown');
    await frameIs('left 50, top 1, width 50, height 99 percent');
    expect(await page.getByText('The frame: left 50, top 1, width 50, height 99 percent.').count()).toBe(1);
    await page.getByRole('button', { name: 'The frame:' }).focus();
    await page.keyboard.press('ArrowUp');
    await frameIs('left 50, top 0, width 50, height 99 percent');
  });

  it('is done by dragging, by pressing two corners, and in numbers', async () => {
    const stage = page.getByRole('group', { name: 'The shared picture with the frame' });
    await stage.scrollIntoViewIfNeeded();
    const box = await stage.boundingBox();
    if (box === null) throw new Error('no stage');
    const at = (x: number, y: number): [number, number] => [
      box.x + (x * box.width) / 100,
      box.y + (y * box.height) / 100,
    ];
    // Outside of the picture the frame ends at its edge.
    await page.mouse.move(...at(20, 30));
    await page.mouse.down();
    await page.mouse.move(...at(40, 60), { steps: 3 });
    await page.mouse.move(...at(130, 140), { steps: 3 });
    await page.mouse.up();
    await frameIs('left 20, top 30, width 80, height 70 percent');
    await page.mouse.click(...at(60, 80));
    await page.getByText('The first corner is set. Press the opposite one.').first().waitFor();
    await page.mouse.click(...at(10, 15));
    await frameIs('left 10, top 15, width 50, height 65 percent');
    for (const [name, percent] of [
      ['Frame width', '100'],
      ['Frame height', '100'],
      ['From the left', '50'],
      ['From the top', '12'],
      ['Frame height', '76'],
    ] as const) {
      await page.getByRole('textbox', { name }).fill(percent);
      await page.keyboard.press('Tab');
    }
    await frameIs('left 50, top 12, width 50, height 76 percent');
  });

  it('has nothing that axe-core finds, in both themes', async () => {
    expect(await axeFindings(page)).toEqual([]);
  });

  it('measures the framed part, asks anew when the window has another size, and tells a minimised one', async () => {
    await page.getByRole('button', { name: 'Measure this part' }).click();
    await page.getByText('A framed part of 640 × 486 pixels, out of 1280 × 640').waitFor();
    await page.getByText(/The upper arm has \d+ pixels: enough/).waitFor();
    await page.evaluate(() => window.resizeShared?.(1280, 600));
    await page.getByText('The shared picture has another size').waitFor();
    await page.getByRole('button', { name: 'Measure this part' }).click();
    await page.getByText('A framed part of 640 × 456 pixels, out of 1280 × 600').waitFor();
    await page.evaluate(() => window.blackenShared?.());
    await page.getByText(/No picture has come.*bring the call’s window back/).waitFor();
  });
});
