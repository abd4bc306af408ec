import { readdir, readFile } from 'node:fs/promises';
import { join } from 'node:path';
import type { Plugin } from 'vite';

/** Writes and serves demo-clips/index.json: what each clip shows and its settings, out of the clips' truth files. */
export function demoClipIndex(folder: string): Plugin {
  const index = async (): Promise<string> => {
    const names = await readdir(folder);
    const clips = names.filter((name) => name.endsWith('.mp4')).map((name) => name.slice(0, -4));
    const entries = clips.sort().map(async (name) => {
      const truth = JSON.parse(await readFile(join(folder, `${name}.truth.json`), 'utf8'));
      const { shows, exercise, side, statureCm } = truth;
      const variant = exercise === 'band-curl' ? (truth.variant ?? 'supinated') : null;
      return { name, shows, settings: { exercise, side, statureCm, variant } };
    });
    return JSON.stringify(await Promise.all(entries));
  };
  return {
    name: 'demo-clip-index',
    configureServer: (server) => {
      server.middlewares.use('/demo-clips/index.json', (_request, response) => {
        void index().then((text) => response.setHeader('Content-Type', 'application/json').end(text));
      });
    },
    async generateBundle() {
      this.emitFile({ type: 'asset', fileName: 'demo-clips/index.json', source: await index() });
    },
  };
}
