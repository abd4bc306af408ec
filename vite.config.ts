import { createReadStream } from 'node:fs';
import { cp, stat } from 'node:fs/promises';
import { join, resolve } from 'node:path';
import { fileURLToPath } from 'node:url';
import { svelte } from '@sveltejs/vite-plugin-svelte';
import { defineConfig, type Plugin } from 'vite';

const local = (path: string): string => fileURLToPath(new URL(path, import.meta.url));

/** Serves models/files under /models/, in development and in the build, as they are. */
function modelFiles(): Plugin {
  const from = local('./models/files');
  let outDir = local('./dist');
  return {
    name: 'model-files',
    configResolved: (config) => {
      outDir = resolve(config.root, config.build.outDir);
    },
    configureServer: (server) => {
      server.middlewares.use('/models/', (request, response, next) => {
        const name = /^\/?([\w.-]+)/.exec(request.url ?? '')?.[1] ?? '';
        const path = join(from, name);
        void stat(path).then(
          () => createReadStream(path).pipe(response),
          () => next(),
        );
      });
    },
    closeBundle: () => cp(from, join(outDir, 'models'), { recursive: true }),
  };
}

/**
 * The application build. The unit and browser tests have their own file (vitest.config.ts): they need neither
 * the Svelte compiler nor the two entry pages.
 */
export default defineConfig({
  plugins: [svelte(), modelFiles()],
  resolve: {
    // @mediapipe/pose is a classic script that hangs `Pose` on window; the shim hands that over as a module.
    alias: { '@mediapipe/pose': local('./src/adapters/estimator/mediapipe-pose-shim.ts') },
  },
  build: {
    target: 'es2023',
    rollupOptions: { input: { app: local('./index.html'), measure: local('./measure.html') } },
  },
});
