import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { ROOT } from '../../../scripts/bootstrap.mjs';
import { planFragment } from '../../../src/core/plan/plan-link.ts';
import { tabTo } from '../../helpers/by-keyboard.ts';
import { fakeCameraArgs, writeFakeCamera } from '../../helpers/fake-camera.ts';
import { shortHoldPlan } from '../../helpers/plan-days.ts';
import { axeFindings, openApp, type OpenApp } from '../../browser/ui-begin-live/open-app.ts';

/*
 * A patient's way from a plan's link to the first set with a demo clip's person in front of the camera: three actions, by
 * keyboard alone, and what a screen reader is told on the way. An action is one key or one touch that answers or decides;
 * Tab only moves to what is already there, and the browser's own question about the camera is not the app's.
 */

const PATIENCE_MS = 120_000;
let app: OpenApp;
let folder: string;

beforeAll(async () => {
  folder = mkdtempSync(join(tmpdir(), 'forearmed-camera-'));
  const camera = join(folder, 'hold.mjpeg');
  await writeFakeCamera(join(ROOT, 'demo-clips', 'hold-drift.mp4'), camera);
  app = await openApp(fakeCameraArgs(camera));
});

afterAll(async () => {
  expect(app.foreignRequests()).toEqual([]);
  expect(app.policyViolations()).toEqual([]);
  await app.close();
  rmSync(folder, { recursive: true });
});

describe('From a plan’s link to the first set', () => {
  it('takes three actions, by keyboard alone, and each step has its name for a screen reader', async () => {
    const { page, context } = await app.openPage({ viewport: { width: 1280, height: 720 } });
    let actions = 0;
    const act = async (key: string): Promise<void> => {
      actions += 1;
      await page.keyboard.press(key);
    };
    await page.goto(`${app.url}#${planFragment(shortHoldPlan('right'))}`);
    await page.getByRole('heading', { level: 1, name: 'A plan was handed over' }).waitFor();
    await tabTo(page, 'Keep it and begin today’s session');
    await act('Enter');

    await page.getByRole('heading', { level: 1, name: 'Today' }).waitFor();
    const questions = await page.getByRole('main').ariaSnapshot();
    expect(questions.match(/- checkbox/g)).toHaveLength(7);
    expect(questions).toMatch(/group "No to all\. Pain now\?"/);
    expect(await axeFindings(page)).toEqual([]);
    await act('1');

    await page.getByRole('heading', { level: 2, name: /^Isometric hold/ }).waitFor();
    expect(await axeFindings(page)).toEqual([]);
    await tabTo(page, 'Yes, it stays in them');
    await act('Enter');

    // From here nothing has to be pressed: the steps follow from what the camera sees.
    await page.locator('.approach').waitFor({ timeout: PATIENCE_MS });
    const step = await page.getByRole('main').ariaSnapshot();
    expect(step).toMatch(/heading "Step 1 of 5: Watch first" \[level=2\]/);
    expect(step).toMatch(/img "How it is done: The hand presses up/);
    expect(step).toMatch(/img "The usual fault: The hand rises/);
    expect(step).toMatch(/status: Watch first/);
    expect(await axeFindings(page)).toEqual([]);
    await page.getByRole('heading', { name: /^Step 2 of 5/ }).waitFor({ timeout: PATIENCE_MS });
    await page.getByRole('heading', { name: /^Step 3 of 5/ }).waitFor({ timeout: PATIENCE_MS });
    // The first set runs once the person keeps still in position.
    await page.getByRole('button', { name: /^Stop/ }).waitFor({ timeout: PATIENCE_MS });
    expect(actions).toBe(3);
    await context.close();
  });
});
