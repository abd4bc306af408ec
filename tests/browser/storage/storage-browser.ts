import { mkdirSync, rmSync, writeFileSync } from 'node:fs';
import { mkdtemp } from 'node:fs/promises';
import { createServer, type Server } from 'node:http';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { chromium, type BrowserContext, type Page } from 'playwright-core';
import { build } from 'vite';
import { findBrowser } from '../../../scripts/browser.mjs';

/** A browser with a profile that outlives it, on an origin of its own. */
export class StorageBrowser {
  readonly origin: string;
  readonly #server: Server;
  readonly #profile: string;
  #context: BrowserContext | null = null;

  private constructor(server: Server, origin: string, profile: string) {
    this.#server = server;
    this.origin = origin;
    this.#profile = profile;
  }

  /**
   * Bundles the page of that script, serves it and makes a fresh profile, with Chromium preferences where a test needs
   * them.
   */
  static async open(preferences?: object, script = 'in-page.ts'): Promise<StorageBrowser> {
    const bundled = await bundlePage(script);
    const server = createServer((request, response) => {
      const isScript = request.url === '/page.js';
      response.setHeader('content-type', isScript ? 'text/javascript' : 'text/html');
      response.end(
        isScript
          ? bundled
          : '<!doctype html><title>storage</title><script type="module" src="/page.js"></script>',
      );
    });
    await new Promise<void>((listening) => server.listen(0, '127.0.0.1', listening));
    const address = server.address();
    if (address === null || typeof address === 'string') throw new Error('The server has no port.');
    const profile = await mkdtemp(join(tmpdir(), 'forearmed-storage-'));
    if (preferences !== undefined) {
      mkdirSync(join(profile, 'Default'));
      writeFileSync(join(profile, 'Default', 'Preferences'), JSON.stringify(preferences));
    }
    return new StorageBrowser(server, `http://localhost:${address.port}`, profile);
  }

  /** A new tab of the page; starts the browser when it is not running. */
  async newPage(before?: (page: Page) => Promise<unknown>): Promise<Page> {
    this.#context ??= await this.#launch();
    const page = await this.#context.newPage();
    await before?.(page);
    await page.goto(this.origin);
    await page.waitForFunction(() => window.storagePage !== undefined);
    return page;
  }

  /** Kills every process that draws pages, as when the machine runs out of memory. */
  async killRenderers(): Promise<void> {
    for (const { type, id } of await this.#processes()) if (type === 'renderer') kill(id);
  }

  /** Kills the whole browser, as when the machine is switched off. The next page starts it again. */
  async killBrowser(): Promise<void> {
    const context = this.#context;
    if (context === null) return;
    const gone = new Promise((resolve) => context.once('close', resolve));
    for (const { type, id } of await this.#processes()) if (type === 'browser') kill(id);
    await gone;
    this.#context = null;
  }

  async close(): Promise<void> {
    await this.#context?.close();
    this.#server.close();
    rmSync(this.#profile, { recursive: true, force: true, maxRetries: 5 });
  }

  async #launch(): Promise<BrowserContext> {
    const executablePath = findBrowser();
    if (executablePath === null) throw new Error('This needs Chrome, Chromium or Edge.');
    const chromiumSandbox = process.getuid?.() !== 0;
    return chromium.launchPersistentContext(this.#profile, { executablePath, chromiumSandbox });
  }

  async #processes(): Promise<readonly { type: string; id: number }[]> {
    const session = await this.#context?.browser()?.newBrowserCDPSession();
    const { processInfo = [] } = (await session?.send('SystemInfo.getProcessInfo')) ?? {};
    return processInfo;
  }
}

function kill(processId: number): void {
  try {
    process.kill(processId, 'SIGKILL');
  } catch {
    // It ended by itself in between.
  }
}

/** The script of a page in this folder, with everything that it imports. */
export async function bundlePage(fileName: string): Promise<string> {
  const entry = fileURLToPath(new URL(`./${fileName}`, import.meta.url));
  const built = await build({
    configFile: false,
    logLevel: 'error',
    build: {
      write: false,
      target: 'es2023',
      minify: false,
      lib: { entry, formats: ['es'] },
      // One script: what the app loads later is here at once.
      rolldownOptions: { output: { codeSplitting: false } },
    },
  });
  const [output] = [built].flat();
  const chunk = output !== undefined && 'output' in output ? output.output[0] : undefined;
  if (chunk?.type !== 'chunk') throw new Error('The page was not bundled.');
  return chunk.code;
}
