import { request } from 'node:http';
import { mkdir, mkdtemp, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { dirname, join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { META_POLICY, SECURITY_HEADERS } from '../../../scripts/security-policy.mjs';
import { parseRange, pathInside, serveFolder } from '../../../scripts/static-server.mjs';

let folder: string;
let server: Awaited<ReturnType<typeof serveFolder>>;
beforeAll(async () => {
  folder = await mkdtemp(join(tmpdir(), 'forearmed-test-'));
  await mkdir(join(folder, 'site'));
  await writeFile(join(folder, 'site', 'index.html'), '<p>start</p>');
  await writeFile(join(folder, 'site', 'a.wasm'), '0123456789');
  await writeFile(join(folder, 'site', 'empty.mp4'), '');
  for (const path of ['assets/app-DBMIhuLB.js', 'models/b.tflite']) {
    await mkdir(join(folder, 'site', dirname(path)));
    await writeFile(join(folder, 'site', path), 'x');
  }
  await writeFile(join(folder, 'secret.txt'), 'secret');
  const files = new Map([['/clips/0', join(folder, 'secret.txt')]]);
  server = await serveFolder(join(folder, 'site'), { files, isolate: true });
});
afterAll(async () => {
  await server.close();
  await rm(folder, { recursive: true, force: true });
});

/** A request whose path is sent as it is: fetch would tidy it up. */
function rawStatus(path: string, method = 'GET'): Promise<number | undefined> {
  return new Promise((resolve, reject) => {
    const { hostname, port } = new URL(server.url);
    const sent = request({ hostname, port, path, method }, (response) => {
      response.resume();
      resolve(response.statusCode);
    });
    sent.on('error', reject);
    sent.end();
  });
}

describe('the static server', () => {
  it('serves the start page for the bare address, and files with their type', async () => {
    const start = await fetch(server.url);
    expect(await start.text()).toBe('<p>start</p>');
    expect(start.headers.get('content-type')).toContain('text/html');
    expect((await fetch(`${server.url}a.wasm`)).headers.get('content-type')).toBe('application/wasm');
  });

  it.each([
    ['bytes=2-4', 206, '234', 'bytes 2-4/10'],
    ['bytes=7-', 206, '789', 'bytes 7-9/10'],
    ['bytes=-3', 206, '789', 'bytes 7-9/10'],
    ['bytes=8-99', 206, '89', 'bytes 8-9/10'],
    ['bytes=10-', 416, '', 'bytes */10'],
    ['lines=1-2', 200, '0123456789', null],
  ])('answers the range %s as RFC 9110, section 14, asks', async (range, status, body, contentRange) => {
    const response = await fetch(`${server.url}a.wasm`, { headers: { range } });
    expect(response.status).toBe(status);
    expect(await response.text()).toBe(body);
    expect(response.headers.get('content-range')).toBe(contentRange);
  });

  it('lets browsers keep for ever what carries its hash in its address, and nothing else', async () => {
    const keeps = async (path: string) => (await fetch(server.url + path)).headers.get('cache-control');
    const forEver = expect.stringContaining('immutable');
    expect(await keeps('assets/app-DBMIhuLB.js')).toEqual(forEver);
    expect(await keeps('models/b.tflite?sha256=0123456789abcdef')).toEqual(forEver);
    for (const path of [
      '',
      'a.wasm',
      'models/b.tflite',
      'models/b.tflite?sha256=1',
      'a.wasm?sha256=0123456789abcdef',
    ])
      expect(await keeps(path)).toBe('no-cache');
  });

  it('says with every answer what the page may do', async () => {
    for (const path of ['', 'a.wasm']) {
      const { headers } = await fetch(server.url + path);
      for (const [name, value] of Object.entries(SECURITY_HEADERS)) expect(headers.get(name)).toBe(value);
    }
    expect(SECURITY_HEADERS['Content-Security-Policy']).toContain("frame-ancestors 'none'");
    // Browsers complain about this one in a page.
    expect(META_POLICY).not.toContain('frame-ancestors');
  });

  it('serves an empty file as one', async () => {
    const response = await fetch(`${server.url}empty.mp4`);
    expect(response.status).toBe(200);
    expect((await response.arrayBuffer()).byteLength).toBe(0);
  });

  it('serves single files that it was given, and isolates when asked', async () => {
    const response = await fetch(`${server.url}clips/0`);
    expect(await response.text()).toBe('secret');
    expect(response.headers.get('cross-origin-opener-policy')).toBe('same-origin');
    expect(response.headers.get('cross-origin-embedder-policy')).toBe('require-corp');
  });

  it.each([
    '/../secret.txt',
    '/%2e%2e/secret.txt',
    '/..%2fsecret.txt',
    '/..%5csecret.txt',
    '/a.wasm/../../secret.txt',
    '/%',
  ])('lets nobody out of its folder by %s', async (path) => {
    expect(await rawStatus(path)).toBe(404);
  });

  it('takes nothing in', async () => {
    expect(await rawStatus('/a.wasm', 'PUT')).toBe(405);
  });

  it('takes a free port when the wished one is taken', async () => {
    const { port } = new URL(server.url);
    const second = await serveFolder(folder, { port: Number(port) });
    expect(second.url).not.toBe(server.url);
    expect((await fetch(`${second.url}secret.txt`)).status).toBe(200);
    await second.close();
  });

  it('does not take a folder of a longer name for its own', () => {
    expect(pathInside('/x/site', '/../site-secret/a')).toBeNull();
    expect(pathInside('/x/site', '/a b/c')).toBe(join('/x/site', 'a b', 'c'));
  });

  it('reads ranges of an empty file as none', () => {
    expect(parseRange('bytes=0-', 0)).toBe('none');
    expect(parseRange(undefined, 0)).toBe('all');
  });
});
