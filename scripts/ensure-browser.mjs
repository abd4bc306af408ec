/** Finds a browser for the tests, or installs Debian's where that can be done. */
import { spawnSync } from 'node:child_process';
import { existsSync } from 'node:fs';
import { giveUp, say } from './bootstrap.mjs';
import { findBrowser } from './browser.mjs';

/** Path of a Chrome, Chromium or Edge; ends with one sentence where there is none and none can be installed. */
export function ensureBrowser() {
  const found = findBrowser();
  if (found !== null) return found;
  const isDebianRoot =
    process.platform === 'linux' && existsSync('/etc/debian_version') && process.getuid?.() === 0;
  if (isDebianRoot) {
    say("Installing Debian's chromium package ...");
    const environment = { ...process.env, DEBIAN_FRONTEND: 'noninteractive' };
    const aptGet = (/** @type {string[]} */ ...args) =>
      spawnSync('apt-get', args, { stdio: ['ignore', 'ignore', 'inherit'], env: environment });
    aptGet('update', '-qq');
    aptGet('install', '-y', '-qq', '--no-install-recommends', 'chromium');
    const installed = findBrowser();
    if (installed !== null) return installed;
  }
  return giveUp(
    'The tests need a browser: install Chrome, Chromium or Edge (on Debian: apt-get install chromium), then run npm test again.',
  );
}
