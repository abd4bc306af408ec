/** A small server of files on this machine only: right types, range requests, nothing outside what it was given. */
import { createReadStream } from 'node:fs';
import { stat } from 'node:fs/promises';
import { createServer } from 'node:http';
import { extname, join, normalize, resolve, sep } from 'node:path';
import { SECURITY_HEADERS } from './security-policy.mjs';

const TYPES = {
  '.html': 'text/html; charset=utf-8',
  '.js': 'text/javascript; charset=utf-8',
  '.mjs': 'text/javascript; charset=utf-8',
  '.css': 'text/css; charset=utf-8',
  '.json': 'application/json; charset=utf-8',
  '.webmanifest': 'application/manifest+json',
  '.svg': 'image/svg+xml',
  '.png': 'image/png',
  '.ico': 'image/x-icon',
  '.woff2': 'font/woff2',
  '.wasm': 'application/wasm',
  '.mp4': 'video/mp4',
  '.m4v': 'video/mp4',
  '.mov': 'video/quicktime',
  '.webm': 'video/webm',
  '.mkv': 'video/x-matroska',
  '.csv': 'text/csv; charset=utf-8',
  '.txt': 'text/plain; charset=utf-8',
};

const ISOLATION = {
  'Cross-Origin-Opener-Policy': 'same-origin',
  'Cross-Origin-Embedder-Policy': 'require-corp',
};

/** Addresses that carry a hash of their content: scripts and styles of the build, and model files. */
const NEVER_CHANGES = /^\/assets\/[\w.-]+-[\w-]{7,8}\.\w+$|^\/models\/[\w.-]+\?sha256=[0-9a-f]{16}$/;

/**
 * Where a request's path leads on disk, or null when it leads out of the folder.
 * @param {string} root an absolute folder
 * @param {string} urlPath begins with "/"
 * @returns {string | null}
 */
export function pathInside(root, urlPath) {
  let decoded;
  try {
    decoded = decodeURIComponent(urlPath);
  } catch {
    return null;
  }
  if (decoded.includes('\0') || decoded.split(/[\\/]/).includes('..')) return null;
  const path = normalize(join(root, decoded));
  return path === root || path.startsWith(root.endsWith(sep) ? root : root + sep) ? path : null;
}

/**
 * The bytes that a Range header asks for: first and last, 'all' without one that is understood, or 'none' when it lies
 * behind the end.
 * @param {string | undefined} header
 * @param {number} size
 * @returns {{ first: number, last: number } | 'all' | 'none'}
 */
export function parseRange(header, size) {
  const parts = /^bytes=(\d*)-(\d*)$/.exec(header ?? '');
  if (parts === null || (parts[1] === '' && parts[2] === '')) return 'all';
  const fromEnd = parts[1] === '';
  const first = fromEnd ? Math.max(0, size - Number(parts[2])) : Number(parts[1]);
  const last = fromEnd || parts[2] === '' ? size - 1 : Math.min(size - 1, Number(parts[2]));
  return first > last ? 'none' : { first, last };
}

/**
 * What answers requests for the files of a folder.
 * @param {string} root the folder
 * @param {{ files?: ReadonlyMap<string, string>, isolate?: boolean }} [options] files: further single files, address path
 *   to path on disk; isolate: send the headers of cross-origin isolation.
 * @returns {(request: import('node:http').IncomingMessage, response: import('node:http').ServerResponse) => void}
 */
export function filesFrom(root, { files = new Map(), isolate = false } = {}) {
  const folder = resolve(root);
  return (request, response) => {
    void answer(request, response).catch(() => {
      if (!response.headersSent) response.writeHead(500);
      response.end();
    });
  };

  /**
   * @param {import('node:http').IncomingMessage} request
   * @param {import('node:http').ServerResponse} response
   */
  async function answer(request, response) {
    const urlPath = (request.url ?? '/').split(/[?#]/)[0] ?? '/';
    /** @param {number} status @param {import('node:http').OutgoingHttpHeaders} [headers] */
    const end = (status, headers = {}) => {
      response.writeHead(status, headers).end();
    };
    if (request.method !== 'GET' && request.method !== 'HEAD') return end(405, { Allow: 'GET, HEAD' });
    const path =
      files.get(urlPath) ?? pathInside(folder, urlPath.endsWith('/') ? `${urlPath}index.html` : urlPath);
    const found = path === null ? null : await stat(path).catch(() => null);
    if (path === null || found === null || !found.isFile()) return end(404);
    const headers = {
      'Content-Type':
        TYPES[/** @type {keyof typeof TYPES} */ (extname(path).toLowerCase())] ?? 'application/octet-stream',
      'Accept-Ranges': 'bytes',
      'Cache-Control': NEVER_CHANGES.test(request.url ?? '') ? 'max-age=31536000, immutable' : 'no-cache',
      'Last-Modified': found.mtime.toUTCString(),
      ...SECURITY_HEADERS,
      ...(isolate ? ISOLATION : {}),
    };
    const range = parseRange(request.headers.range, found.size);
    if (range === 'none') return end(416, { 'Content-Range': `bytes */${String(found.size)}` });
    const whole = range === 'all';
    const { first, last } = whole ? { first: 0, last: found.size - 1 } : range;
    response.writeHead(whole ? 200 : 206, {
      ...headers,
      'Content-Length': last - first + 1,
      ...(whole ? {} : { 'Content-Range': `bytes ${String(first)}-${String(last)}/${String(found.size)}` }),
    });
    if (request.method === 'HEAD' || found.size === 0) response.end();
    else
      createReadStream(path, { start: first, end: last })
        .on('error', () => response.destroy())
        .pipe(response);
    return undefined;
  }
}

/**
 * Serves a folder on this machine only (127.0.0.1).
 * @param {string} root the folder
 * @param {{ port?: number, files?: ReadonlyMap<string, string>, isolate?: boolean }} [options] port: when it is taken,
 *   or 0, a free one is had; files and isolate as above.
 * @returns {Promise<{ url: string, close: () => Promise<void> }>} url ends with a slash
 */
export async function serveFolder(root, { port = 0, ...options } = {}) {
  const server = createServer(filesFrom(root, options));
  await listen(server, port).catch((error) => {
    if (error.code !== 'EADDRINUSE' || port === 0) throw error;
    return listen(server, 0);
  });
  const address = server.address();
  if (address === null || typeof address === 'string') throw new Error('serveFolder: no port.');
  return {
    url: `http://localhost:${String(address.port)}/`,
    close: () =>
      new Promise((done) => {
        server.closeAllConnections();
        server.close(() => done());
      }),
  };
}

/** @param {import('node:http').Server} server @param {number} port */
function listen(server, port) {
  return new Promise((done, fail) => {
    server.once('error', fail);
    server.listen(port, '127.0.0.1', () => {
      server.off('error', fail);
      done(undefined);
    });
  });
}
