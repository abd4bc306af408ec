import { fileURLToPath } from 'node:url';
import { svelte } from '@sveltejs/vite-plugin-svelte';
import { defineConfig } from 'vite';

const local = (path: string): string => fileURLToPath(new URL(path, import.meta.url));

/**
 * The application build. The unit and browser tests have their own file (vitest.config.ts): they need neither
 * the Svelte compiler nor the two entry pages.
 */
export default defineConfig({
  plugins: [svelte()],
  resolve: {
    // @mediapipe/pose is a classic script that hangs `Pose` on window; the shim hands that over as a module.
    alias: { '@mediapipe/pose': local('./src/adapters/estimator/mediapipe-pose-shim.ts') },
  },
  build: {
    target: 'es2023',
    rollupOptions: { input: { app: local('./index.html'), measure: local('./measure.html') } },
  },
});
