/** Finds a Chrome, Chromium or Edge on this machine, and starts it without a window. */
import { accessSync, constants } from 'node:fs';
import { delimiter, join } from 'node:path';
import { chromium } from 'playwright-core';

const NAMES = [
  'chromium',
  'chromium-browser',
  'google-chrome',
  'google-chrome-stable',
  'microsoft-edge',
  'microsoft-edge-stable',
];

const MAC_APPS = ['Google Chrome', 'Chromium', 'Microsoft Edge'];

const WINDOWS_PATHS = [
  ['Google', 'Chrome', 'Application', 'chrome.exe'],
  ['Chromium', 'Application', 'chrome.exe'],
  ['Microsoft', 'Edge', 'Application', 'msedge.exe'],
];

/** @param {string} path */
function isProgram(path) {
  try {
    accessSync(path, constants.X_OK);
    return true;
  } catch {
    return false;
  }
}

/** @returns {string[]} */
function candidates() {
  const { env, platform } = process;
  const chosen = env['CHROME_PATH'] === undefined ? [] : [env['CHROME_PATH']];
  if (platform === 'darwin') {
    const folders = ['/Applications', join(env['HOME'] ?? '', 'Applications')];
    return [
      ...chosen,
      ...folders.flatMap((folder) =>
        MAC_APPS.map((app) => join(folder, `${app}.app`, 'Contents', 'MacOS', app)),
      ),
    ];
  }
  if (platform === 'win32') {
    const roots = [env['PROGRAMFILES'], env['PROGRAMFILES(X86)'], env['LOCALAPPDATA']].flatMap(
      (root) => root ?? [],
    );
    return [...chosen, ...roots.flatMap((root) => WINDOWS_PATHS.map((parts) => join(root, ...parts)))];
  }
  const folders = [
    ...(env['PATH'] ?? '').split(delimiter),
    '/usr/bin',
    '/usr/local/bin',
    '/snap/bin',
    '/opt/google/chrome',
  ];
  return [...chosen, ...NAMES.flatMap((name) => folders.map((folder) => join(folder, name)))];
}

/**
 * The path of a Chrome, Chromium or Edge, or null. The variable CHROME_PATH goes before what is found.
 * @returns {string | null}
 */
export function findBrowser() {
  return candidates().find(isProgram) ?? null;
}

/**
 * Starts the browser without a window. As root the browser refuses its sandbox, so it goes without there.
 * @param {string} executablePath
 * @param {readonly string[]} [args] further switches
 */
export function launchBrowser(executablePath, args = []) {
  return chromium.launch({ executablePath, chromiumSandbox: process.getuid?.() !== 0, args: [...args] });
}
