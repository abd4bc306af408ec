import { createHash } from 'node:crypto';
import { readdir, readFile } from 'node:fs/promises';
import { join, relative, resolve, sep } from 'node:path';
import { build, type Plugin } from 'vite';
import type { BuildContents } from '../../src/adapters/offline/build-contents.ts';

/** Model files and clips are kept by other rules; the measuring page is a tool; the list of chunks is for our checks. */
const NOT_APP =
  /^(models\/|demo-clips\/.*\.mp4$|measure\.html$|assets\/measure-|\.vite\/|service-worker\.js$)/;

/** Builds the service worker after the app, with the list of everything that the app consists of. */
export function offlineWorker(entry: string, clipFolder: string): Plugin {
  let outDir = '';
  return {
    name: 'offline-worker',
    apply: 'build',
    configResolved: (config) => {
      outDir = resolve(config.root, config.build.outDir);
    },
    closeBundle: {
      order: 'post',
      sequential: true,
      handler: async () => {
        const contents = await contentsOf(outDir, clipFolder);
        await build({
          configFile: false,
          logLevel: 'warn',
          define: { __BUILD__: JSON.stringify(contents) },
          build: {
            target: 'es2023',
            outDir,
            emptyOutDir: false,
            copyPublicDir: false,
            rollupOptions: {
              input: entry,
              output: { format: 'iife', entryFileNames: 'service-worker.js' },
            },
          },
        });
      },
    },
  };
}

async function contentsOf(outDir: string, clipFolder: string): Promise<BuildContents> {
  const names = (await filesBelow(outDir)).filter((name) => !NOT_APP.test(name));
  const appFiles = await Promise.all(
    names.map(async (name) => {
      const sha256 = await hashOf(join(outDir, name));
      // Vite's names carry a hash of their own.
      const revision = name.startsWith('assets/') ? null : sha256.toString('hex').slice(0, 16);
      return { url: name, revision, integrity: `sha256-${sha256.toString('base64')}` };
    }),
  );
  const clips = (await readdir(clipFolder)).filter((name) => name.endsWith('.mp4')).sort();
  const clipHashes = await Promise.all(clips.map((name) => hashOf(join(clipFolder, name))));
  return {
    version: shortHash(JSON.stringify(appFiles)),
    appFiles,
    clipsVersion: shortHash(clipHashes.map((hash) => hash.toString('hex')).join()),
  };
}

/** Names below a folder with "/" on every system, sorted. */
async function filesBelow(folder: string): Promise<string[]> {
  const found = await readdir(folder, { recursive: true, withFileTypes: true });
  return found
    .filter((entry) => entry.isFile())
    .map((entry) => relative(folder, join(entry.parentPath, entry.name)).split(sep).join('/'))
    .sort();
}

async function hashOf(file: string): Promise<Buffer> {
  return createHash('sha256')
    .update(await readFile(file))
    .digest();
}

function shortHash(text: string): string {
  return createHash('sha256').update(text).digest('hex').slice(0, 16);
}
