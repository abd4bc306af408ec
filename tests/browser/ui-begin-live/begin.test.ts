import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { axeFindings, FAKE_CAMERA, openApp, type OpenApp } from './open-app.ts';

let app: OpenApp;
beforeAll(async () => {
  app = await openApp(FAKE_CAMERA);
});
afterAll(async () => {
  expect(app.foreignRequests()).toEqual([]);
  expect(app.policyViolations()).toEqual([]);
  await app.close();
});

describe('Begin', () => {
  it.each([390, 1280])('has nothing that axe-core finds, in both themes, %i px wide', async (width) => {
    const { page, context } = await app.openPage({ viewport: { width, height: 844 } });
    await page.getByText('Or try it with a demo clip').waitFor();
    expect(await axeFindings(page)).toEqual([]);
    const overflow = await page.evaluate(() => document.documentElement.scrollWidth - window.innerWidth);
    expect(overflow).toBeLessThanOrEqual(0);
    await context.close();
  });

  it('asks for the treated arm before a source can be opened, and keeps it for the next visit', async () => {
    const { page, context } = await app.openPage();
    const open = page.getByRole('button', { name: 'Open the camera' });
    expect(await open.isDisabled()).toBe(true);
    await page.getByRole('radio', { name: 'Your left arm' }).check();
    expect(await open.isDisabled()).toBe(false);
    await page.reload();
    await page.getByRole('radio', { name: 'Your left arm' }).waitFor();
    expect(await page.getByRole('radio', { name: 'Your left arm' }).isChecked()).toBe(true);
    await context.close();
  });

  it('says the red flags where the session is started', async () => {
    const { page, context } = await app.openPage();
    for (const words of ['pop', 'sudden weakness', 'bruising', 'contour of the biceps', 'Seek care now']) {
      expect(await page.getByText(words).first().isVisible()).toBe(true);
    }
    await context.close();
  });

  it('can be filled in by keyboard alone', async () => {
    const { page, context } = await app.openPage();
    await page.keyboard.press('Tab');
    expect(await page.locator(':focus').innerText()).toBe('Skip to the content');
    await page.keyboard.press('Enter');
    await page.keyboard.press('Tab');
    await page.keyboard.press('ArrowDown');
    expect(await page.getByRole('radio', { name: 'Body-moving curl' }).isChecked()).toBe(true);
    await page.keyboard.press('Tab');
    await page.keyboard.press('Space');
    expect(await page.getByRole('radio', { name: 'Your left arm' }).isChecked()).toBe(true);
    await page.keyboard.press('Tab');
    await page.keyboard.type('300');
    await page.keyboard.press('Tab');
    await page.getByText('Enter 80 to 250 cm, or leave it empty.').waitFor();
    await context.close();
  });

  it('goes to another screen with the focus on its heading and a title of its own', async () => {
    const { page, context } = await app.openPage();
    await page.getByRole('link', { name: 'Sessions' }).click();
    await page.getByRole('heading', { level: 1, name: 'Sessions' }).waitFor();
    await page.waitForFunction(() => document.activeElement?.tagName === 'H1');
    expect(await page.title()).toBe('Sessions · Forearmed');
    await page.goBack();
    await page.getByRole('heading', { level: 1, name: 'Begin a session' }).waitFor();
    await context.close();
  });

  it.each([
    ['empty.mp4', '', /holds no picture/],
    ['notes.mp4', 'these are words and no film', /not a video that can be read/],
  ])('says what is wrong with the clip %s and stays usable', async (name, content, sentence) => {
    const { page, context } = await app.openPage();
    await page.getByRole('radio', { name: 'Your right arm' }).check();
    await page.getByRole('radio', { name: 'A clip' }).check();
    const file = { name, mimeType: 'video/mp4', buffer: Buffer.from(content) };
    await page.locator('input[type=file]').setInputFiles(file);
    await page.getByRole('alert').getByText(sentence).waitFor();
    expect(await page.getByText('Choose a clip').isVisible()).toBe(true);
    await context.close();
  });
});

describe('Begin without the right to a camera', () => {
  it('says what to do', async () => {
    const refusing = await openApp(['--use-fake-device-for-media-stream', '--deny-permission-prompts']);
    const { page } = await refusing.openPage();
    await page.getByRole('radio', { name: 'Your right arm' }).check();
    await page.getByRole('button', { name: 'Open the camera' }).click();
    await page.getByRole('alert').getByText('was not allowed to use the camera').waitFor();
    await refusing.close();
  });
});
