import { createReadStream } from 'node:fs';
import { cp, readdir, readFile, stat } from 'node:fs/promises';
import { join, resolve } from 'node:path';
import { fileURLToPath } from 'node:url';
import { svelte } from '@sveltejs/vite-plugin-svelte';
import { defineConfig, type Plugin } from 'vite';

const local = (path: string): string => fileURLToPath(new URL(path, import.meta.url));

/** Serves a folder's files under a path, in development and in the build, as they are. */
function servedFiles(path: string, from: string, isServed: (name: string) => boolean): Plugin {
  let outDir = local('./dist');
  return {
    name: `served-files-${path}`,
    configResolved: (config) => {
      outDir = resolve(config.root, config.build.outDir);
    },
    configureServer: (server) => {
      server.middlewares.use(`/${path}/`, (request, response, next) => {
        const name = /^\/?([\w.-]+)/.exec(request.url ?? '')?.[1] ?? '';
        const file = join(from, name);
        if (!isServed(name)) return next();
        void stat(file).then(
          () => createReadStream(file).pipe(response),
          () => next(),
        );
      });
    },
    closeBundle: async () => {
      const names = (await readdir(from)).filter(isServed);
      await Promise.all(names.map((name) => cp(join(from, name), join(outDir, path, name))));
    },
  };
}

/** Writes and serves demo-clips/index.json: what each clip shows and its settings, out of the clips' truth files. */
function demoClipIndex(): Plugin {
  const folder = local('./demo-clips');
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

/**
 * The application build. The unit and browser tests have their own file (vitest.config.ts): they need neither
 * the Svelte compiler nor the two entry pages.
 */
export default defineConfig({
  plugins: [
    svelte(),
    servedFiles('models', local('./models/files'), () => true),
    servedFiles('demo-clips', local('./demo-clips'), (name) => name.endsWith('.mp4')),
    demoClipIndex(),
  ],
  resolve: {
    // @mediapipe/pose is a classic script that hangs `Pose` on window; the shim hands that over as a module.
    alias: { '@mediapipe/pose': local('./src/adapters/estimator/mediapipe-pose-shim.ts') },
  },
  build: {
    target: 'es2023',
    rollupOptions: { input: { app: local('./index.html'), measure: local('./measure.html') } },
  },
});
