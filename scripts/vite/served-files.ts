import { createReadStream } from 'node:fs';
import { cp, readdir, stat } from 'node:fs/promises';
import { extname, join, resolve } from 'node:path';
import type { Plugin } from 'vite';

/** Browsers compile WebAssembly while it arrives, and run scripts, only under their right type. */
const TYPES: Readonly<Record<string, string>> = { '.js': 'text/javascript', '.wasm': 'application/wasm' };

/** Serves a folder's files under a path, in development and in the build, as they are. */
export function servedFiles(path: string, from: string, isServed: (name: string) => boolean): Plugin {
  let outDir = '';
  let isBuild = false;
  return {
    name: `served-files-${path}`,
    configResolved: (config) => {
      outDir = resolve(config.root, config.build.outDir);
      isBuild = config.command === 'build';
    },
    configureServer: (server) => {
      server.middlewares.use(`/${path}/`, (request, response, next) => {
        const name = /^\/?([\w.-]+)/.exec(request.url ?? '')?.[1] ?? '';
        const file = join(from, name);
        if (!isServed(name)) return next();
        void stat(file).then(
          () => {
            response.setHeader('Content-Type', TYPES[extname(name)] ?? 'application/octet-stream');
            createReadStream(file).pipe(response);
          },
          () => next(),
        );
      });
    },
    // A development server that is closed calls this too: it must not write into a build that others read.
    closeBundle: async () => {
      if (!isBuild) return;
      const names = (await readdir(from)).filter(isServed);
      await Promise.all(names.map((name) => cp(join(from, name), join(outDir, path, name))));
    },
  };
}
