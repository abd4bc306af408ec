import { cp, mkdtemp, readFile, rm, writeFile } from 'node:fs/promises';
import { createServer, type Server } from 'node:http';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { ROOT } from '../../../scripts/bootstrap.mjs';
import { loadModelFiles, modelUrl, type ModelProgress } from '../../../src/adapters/estimator/model-files.ts';
import { modelFile } from '../../../src/adapters/estimator/model-manifest.ts';

const SMALL = 'pose_web.binarypb';
const LARGE = 'pose_landmark_lite.tflite';

let folder: string;
let server: Server;
let base: string;
/** Every request, as name and cache directive. */
let requests: string[];
/** What answers instead of the file, by request number. */
let answerInstead: (request: number) => Buffer | null;

beforeEach(async () => {
  folder = await mkdtemp(join(tmpdir(), 'forearmed-test-'));
  for (const name of [SMALL, LARGE]) await cp(join(ROOT, 'models/files', name), join(folder, name));
  requests = [];
  answerInstead = () => null;
  server = createServer((request, response) => {
    const name = /^\/models\/([\w.-]+)\?sha256=/.exec(request.url ?? '')?.[1] ?? 'none';
    requests.push(name);
    const other = answerInstead(requests.length);
    void readFile(join(folder, name)).then(
      (content) => response.end(other ?? content),
      () => response.writeHead(404).end(),
    );
  });
  await new Promise<void>((done) => server.listen(0, '127.0.0.1', done));
  const address = server.address();
  if (address === null || typeof address === 'string') throw new Error('no port');
  base = `http://127.0.0.1:${String(address.port)}/models/`;
});
afterEach(async () => {
  server.closeAllConnections();
  server.close();
  await rm(folder, { recursive: true, force: true });
});

describe('loading model files', () => {
  it('gives the stated content, under an address that carries its hash', async () => {
    const files = await loadModelFiles(base, [SMALL]);
    expect(Buffer.from(await files.bytes(SMALL))).toEqual(await readFile(join(folder, SMALL)));
    expect(files.url(SMALL)).toBe(`${base}${SMALL}?sha256=${modelFile(SMALL).sha256.slice(0, 16)}`);
    expect(files.url(SMALL)).toBe(modelUrl(base, SMALL));
    expect(() => files.url(LARGE)).toThrow(LARGE);
    files.release();
    await expect(files.bytes(SMALL)).rejects.toThrow(SMALL);
  });

  it('tells how many bytes have come, piece by piece, of the total that the list states', async () => {
    const told: ModelProgress[] = [];
    const files = await loadModelFiles(base, [SMALL, LARGE], (progress) => told.push(progress));
    const totalBytes = modelFile(SMALL).bytes + modelFile(LARGE).bytes;
    expect(told[0]).toEqual({ loadedBytes: 0, totalBytes });
    expect(told.at(-1)).toEqual({ loadedBytes: totalBytes, totalBytes });
    const between = told.filter(
      ({ loadedBytes }) => loadedBytes > totalBytes / 10 && loadedBytes < totalBytes * 0.9,
    );
    expect(between.length).toBeGreaterThan(3);
    files.release();
  });

  it('downloads a file once for two who ask at the same time, and shares it until both let go', async () => {
    const [first, second] = await Promise.all([
      loadModelFiles(base, [LARGE]),
      loadModelFiles(base, [LARGE, SMALL]),
    ]);
    const third = await loadModelFiles(base, [LARGE]);
    expect(requests.toSorted()).toEqual([LARGE, SMALL]);
    expect(await first.bytes(LARGE)).toBe(await second.bytes(LARGE));
    first.release();
    first.release();
    third.release();
    expect(await second.bytes(LARGE)).toBeInstanceOf(ArrayBuffer);
    second.release();
    (await loadModelFiles(base, [LARGE])).release();
    expect(requests).toHaveLength(3);
  });

  it('asks again when what came was damaged, and takes the second answer', async () => {
    answerInstead = (request) => (request === 1 ? Buffer.alloc(modelFile(SMALL).bytes) : null);
    const files = await loadModelFiles(base, [SMALL]);
    expect(Buffer.from(await files.bytes(SMALL))).toEqual(await readFile(join(folder, SMALL)));
    expect(requests).toHaveLength(2);
    files.release();
  });

  it.each([
    ['other', (good: Buffer) => Buffer.from(good).fill(1, 5, 6)],
    ['too short', (good: Buffer) => good.subarray(1)],
    ['too long', (good: Buffer) => Buffer.concat([good, Buffer.from('x')])],
  ])('says that a file is damaged when it is %s both times', async (_, damage) => {
    await writeFile(join(folder, SMALL), damage(await readFile(join(folder, SMALL))));
    await expect(loadModelFiles(base, [SMALL])).rejects.toMatchObject({ problem: 'model-damaged' });
  });

  it('says that a file is missing, and tries anew the next time', async () => {
    await rm(join(folder, SMALL));
    await expect(loadModelFiles(base, [SMALL, LARGE])).rejects.toMatchObject({ problem: 'model-missing' });
    await cp(join(ROOT, 'models/files', SMALL), join(folder, SMALL));
    (await loadModelFiles(base, [SMALL])).release();
  });

  it('says that a file is missing when nobody answers', async () => {
    server.closeAllConnections();
    server.close();
    await expect(loadModelFiles(base, [SMALL])).rejects.toMatchObject({ problem: 'model-missing' });
  });
});
