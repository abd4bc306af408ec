import { createHash } from 'node:crypto';
import { mkdir, mkdtemp, readFile, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import stated from '../../../models/manifest.json' with { type: 'json' };
import { prepareModels } from '../../../scripts/prepare-models.mjs';
import { FINDER_FILES } from '../../../src/adapters/estimator/finder-files.ts';
import { modelFile, modelManifestSchema } from '../../../src/adapters/estimator/model-manifest.ts';
import { poseFiles } from '../../../src/adapters/estimator/pose-solution.ts';

describe('the list of model files', () => {
  it('is well formed and names every file that the estimators load', () => {
    expect(modelManifestSchema.safeParse(stated).success).toBe(true);
    for (const name of [...poseFiles('lite'), ...poseFiles('full'), ...poseFiles('heavy'), ...FINDER_FILES])
      expect(modelFile(name).name).toBe(name);
    expect(new Set(stated.files.map(({ name }) => name)).size).toBe(stated.files.length);
  });

  it('names package, version and licence as the packages themselves do', async () => {
    for (const file of stated.files) {
      const own: unknown = JSON.parse(
        await readFile(join('node_modules', file.package, 'package.json'), 'utf8'),
      );
      expect(own).toMatchObject({ name: file.package, version: file.version, license: file.licence });
    }
  });
});

describe('preparing model files', () => {
  let root: string;
  beforeEach(async () => {
    root = await mkdtemp(join(tmpdir(), 'forearmed-test-'));
    const sha256 = createHash('sha256').update('good').digest('hex');
    const file = {
      name: 'a.bin',
      bytes: 4,
      sha256,
      package: 'pack',
      version: '1',
      path: 'sub/a.bin',
      licence: 'MIT',
    };
    await mkdir(join(root, 'models'));
    await mkdir(join(root, 'node_modules/pack/sub'), { recursive: true });
    await writeFile(join(root, 'models/manifest.json'), JSON.stringify({ files: [file] }));
  });
  afterEach(() => rm(root, { recursive: true, force: true }));
  const prepared = () => readFile(join(root, 'models/files/a.bin'), 'utf8');

  it('copies what the packages hold, and replaces a damaged copy', async () => {
    await writeFile(join(root, 'node_modules/pack/sub/a.bin'), 'good');
    expect(await prepareModels(root)).toEqual([]);
    await writeFile(join(root, 'models/files/a.bin'), 'goof');
    expect(await prepareModels(root)).toEqual([]);
    expect(await prepared()).toBe('good');
  });

  it('says what to do about a file that is not the stated one, and does not copy it', async () => {
    await writeFile(join(root, 'node_modules/pack/sub/a.bin'), 'evil');
    expect(await prepareModels(root)).toEqual([expect.stringContaining('npm ci')]);
    await expect(prepared()).rejects.toThrow();
  });

  it('says what to do about a file that is missing', async () => {
    expect(await prepareModels(root)).toEqual([expect.stringContaining('is not in pack')]);
  });
});
