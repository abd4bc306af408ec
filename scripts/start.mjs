/** `npm start`: makes everything ready, serves the app on this machine, prints the address, opens a browser. */
import { spawn } from 'node:child_process';
import { join } from 'node:path';
import { ensureReady, ROOT, say } from './bootstrap.mjs';

ensureReady();
const { serveFolder } = await import('./static-server.mjs');
const server = await serveFolder(join(ROOT, 'dist'), { port: Number(process.env['PORT'] ?? 4180) });
say(`\nForearmed is running at ${server.url}\nStop it with Ctrl+C.`);
openBrowser(server.url);

/** Opens the address where there is a screen and a way to open it; the printed address is enough elsewhere. @param {string} url */
function openBrowser(url) {
  const screen =
    process.platform === 'win32' ||
    process.platform === 'darwin' ||
    process.env['DISPLAY'] ||
    process.env['WAYLAND_DISPLAY'];
  if (process.env['CI'] || !screen) return;
  const [command, args] =
    process.platform === 'win32'
      ? ['cmd', ['/c', 'start', '', url]]
      : [process.platform === 'darwin' ? 'open' : 'xdg-open', [url]];
  const child = spawn(/** @type {string} */ (command), /** @type {string[]} */ (args), {
    stdio: 'ignore',
    detached: true,
  });
  child.on('error', () => say('No browser could be opened from here: open the address above yourself.'));
  child.unref();
}
