import { fileURLToPath } from 'node:url';
import { svelte } from '@sveltejs/vite-plugin-svelte';
import { defineConfig } from 'vite';
import { demoClipIndex } from './scripts/vite/demo-clip-index.ts';
import { offlineWorker } from './scripts/vite/offline-worker.ts';
import { policyInPage } from './scripts/vite/policy-in-page.ts';
import { servedFiles } from './scripts/vite/served-files.ts';
import { zodWithoutEval } from './scripts/vite/zod-without-eval.ts';

const local = (path: string): string => fileURLToPath(new URL(path, import.meta.url));
const DEMO_CLIPS = local('./demo-clips');

/**
 * The application build. The unit and browser tests have their own file (vitest.config.ts): they do not need
 * the two entry pages.
 */
export default defineConfig({
  plugins: [
    svelte(),
    servedFiles('models', local('./models/files'), () => true),
    servedFiles('demo-clips', DEMO_CLIPS, (name) => name.endsWith('.mp4')),
    demoClipIndex(DEMO_CLIPS),
    policyInPage(),
    zodWithoutEval(),
    offlineWorker(local('./src/service-worker.ts'), DEMO_CLIPS),
  ],
  resolve: {
    // @mediapipe/pose is a classic script that hangs `Pose` on window; the shim hands that over as a module.
    alias: { '@mediapipe/pose': local('./src/adapters/estimator/mediapipe-pose-shim.ts') },
  },
  // Worker scripts import modules of their own.
  worker: {
    format: 'es',
    plugins: () => [zodWithoutEval()],
    // The judging worker holds at once what the page loads when it needs it.
    rolldownOptions: { checks: { ineffectiveDynamicImport: false } },
  },
  build: {
    target: 'es2023',
    // Weight is judged by scripts/sizes.ts, after gzip.
    chunkSizeWarningLimit: Infinity,
    // Every browser of the target knows modulepreload.
    modulePreload: { polyfill: false },
    // For scripts/sizes.ts: which chunk loads which.
    manifest: true,
    rollupOptions: {
      input: { app: local('./index.html'), measure: local('./measure.html') },
      // The first screen's script lists all files that may be loaded later: 42 bits of hash each are enough to tell builds apart.
      output: {
        entryFileNames: 'assets/[name]-[hash:7].js',
        chunkFileNames: 'assets/[name]-[hash:7].js',
        assetFileNames: 'assets/[name]-[hash:7][extname]',
      },
    },
  },
});
