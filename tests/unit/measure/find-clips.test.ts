import { mkdir, mkdtemp, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { findClips, nameClips } from '../../../scripts/measure/find-clips.ts';

let folder: string;
beforeAll(async () => {
  folder = await mkdtemp(join(tmpdir(), 'forearmed-test-'));
  await mkdir(join(folder, 'inner.mp4'));
  await mkdir(join(folder, 'none'));
  for (const name of ['b.MP4', 'a.mov', 'c d.webm', 'e.mkv', 'f.m4v', 'notes.txt', '.hidden.mp4'])
    await writeFile(join(folder, name), '');
  await writeFile(join(folder, 'inner.mp4', 'deep.mp4'), '');
});
afterAll(() => rm(folder, { recursive: true, force: true }));

describe('finding clips', () => {
  it('takes the clips of a folder in order, whatever the case of their endings, and no folder inside it', async () => {
    const clips = await findClips(folder);
    expect(clips).toMatchObject(
      ['a.mov', 'b.MP4', 'c d.webm', 'e.mkv', 'f.m4v'].map((file) => ({ file, path: join(folder, file) })),
    );
    expect(clips).toHaveLength(5);
  });

  it('takes a single file whatever its ending', async () => {
    expect(await findClips(join(folder, 'notes.txt'))).toMatchObject([{ name: 'notes', file: 'notes.txt' }]);
  });

  it('says so when there is nothing there', async () => {
    expect(await findClips(join(folder, 'gone.mp4'))).toContain('There is no');
    expect(await findClips(join(folder, 'none'))).toContain('holds no clip');
  });
});

describe('naming results', () => {
  it('keeps apart clips that differ only in their ending, and by case where file systems do not', () => {
    const names = nameClips(['/x/press.mp4', '/x/press.mov', '/x/Press.webm', '/x/hold.mp4']).map(
      ({ name }) => name,
    );
    expect(names).toEqual(['press-mp4', 'press-mov', 'Press-webm', 'hold']);
  });

  it('never gives one name twice', () => {
    const names = nameClips(['/x/a.mp4', '/x/a.mov', '/x/a-mp4.webm']).map(({ name }) => name.toLowerCase());
    expect(new Set(names).size).toBe(3);
  });
});
