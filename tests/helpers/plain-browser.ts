import { spawn } from 'node:child_process';
import { existsSync, mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { setTimeout as wait } from 'node:timers/promises';
import { chromium, type BrowserContext } from 'playwright-core';
import { findBrowser } from '../../scripts/browser.mjs';

const START_MS = 20_000;

/** A browser whose pages are hidden, frozen and shown as people's are: what drives tests otherwise keeps them all in sight. */
export interface PlainBrowser {
  readonly context: BrowserContext;
  close(): Promise<void>;
}

/** Starts a browser of its own with further switches, with a profile that goes with it. */
export async function openPlainBrowser(args: readonly string[]): Promise<PlainBrowser> {
  const path = findBrowser();
  if (path === null) throw new Error('This test needs Chrome, Chromium or Edge.');
  const profile = mkdtempSync(join(tmpdir(), 'forearmed-profile-'));
  const sandbox = process.getuid?.() === 0 ? ['--no-sandbox'] : [];
  const own = ['--headless=new', ...sandbox, '--no-first-run', '--remote-debugging-port=0'];
  const child = spawn(path, [...own, `--user-data-dir=${profile}`, ...args, 'about:blank'], {
    stdio: 'ignore',
  });
  process.once('exit', () => child.kill());
  const gone = new Promise<void>((resolve) => child.once('exit', () => resolve()));
  const portFile = join(profile, 'DevToolsActivePort');
  const deadline = Date.now() + START_MS;
  while (!existsSync(portFile) || !readFileSync(portFile, 'utf8').includes('\n')) {
    if (Date.now() > deadline) throw new Error('The browser did not start.');
    await wait(100);
  }
  const [port = ''] = readFileSync(portFile, 'utf8').split('\n');
  const browser = await chromium.connectOverCDP(`http://127.0.0.1:${port}`, { noDefaults: true });
  const [context] = browser.contexts();
  if (context === undefined) throw new Error('The browser has no window.');
  return {
    context,
    async close() {
      await browser.close();
      child.kill();
      await gone;
      rmSync(profile, { recursive: true, force: true });
    },
  };
}
