import { spawn, spawnSync } from 'node:child_process';
import { copyFile, mkdir, mkdtemp, readdir, readFile, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { sessionRecordSchema } from '../../../src/core/session/session-record.ts';
import { openSourceBrowser } from '../../helpers/source-browser.ts';

/** The columns that scripts of others rely on, in the order in which they are promised. */
const FRAME_COLUMNS =
  'time_s,elbow_flexion_deg,elbow_flexion_low_deg,elbow_flexion_high_deg,shoulder_flexion_deg,trunk_inclination_deg,torso_travel_cm,phase,measured,reason';
const SUMMARY_COLUMNS =
  'clip,exercise,side,duration_s,frames,measured_share,repetitions,partial_repetitions,shoulder_dominant_repetitions,hold_in_range_s,elbow_min_deg,elbow_max_deg,torso_travel_cm_median,lowering_s_median,wall_s,problem';

const local = (path: string) => fileURLToPath(new URL(`../../../${path}`, import.meta.url));
const hasFfmpeg = spawnSync('ffmpeg', ['-version']).status === 0;

interface Ended {
  readonly code: number | null;
  readonly stdout: string;
  readonly stderr: string;
}

let folder: string;

/** Runs the command as npm would: in the project's folder, told where the person was. */
function measure(args: readonly string[], environment: NodeJS.ProcessEnv = {}): Promise<Ended> {
  return new Promise((resolve) => {
    const child = spawn(
      process.execPath,
      [local('node_modules/tsx/dist/cli.mjs'), local('scripts/measure.ts'), ...args],
      { cwd: local('.'), env: { ...process.env, INIT_CWD: folder, ...environment } },
    );
    let stdout = '';
    let stderr = '';
    child.stdout.on('data', (text) => (stdout += String(text)));
    child.stderr.on('data', (text) => (stderr += String(text)));
    child.on('close', (code) => resolve({ code, stdout, stderr }));
  });
}

/** The rows of a small table without quoted commas in the first columns, by clip. */
async function summaryOf(out: string): Promise<ReadonlyMap<string, string>> {
  const lines = (await readFile(join(folder, out, 'summary.csv'), 'utf8')).trimEnd().split('\n');
  expect(lines[0]?.startsWith(`${SUMMARY_COLUMNS},`)).toBe(true);
  return new Map(lines.slice(1).map((line) => [line.split(',')[0] ?? '', line]));
}

beforeAll(async () => {
  folder = await mkdtemp(join(tmpdir(), 'forearmed-test-'));
  await mkdir(join(folder, 'one'));
  await mkdir(join(folder, 'many'));
  const browser = await openSourceBrowser();
  try {
    const page = await browser.openPage('/tests/browser/frames/in-page.ts');
    await page.route('**/the-clip', async (route) =>
      route.fulfill({ body: await readFile(local('demo-clips/hold-drift.mp4')), contentType: 'video/mp4' }),
    );
    const write = (path: string, base64: string) =>
      writeFile(join(folder, path), Buffer.from(base64, 'base64'));
    await write('one/arm hold.mp4', await page.evaluate(() => window.framesPage.cutClip('/the-clip', 1.5)));
    await copyFile(join(folder, 'one/arm hold.mp4'), join(folder, 'many/arm hold.mp4'));
    await write('many/sound.m4v', await page.evaluate(() => window.framesPage.makeSound()));
    const plan = { container: 'mp4' as const, width: 160, height: 96 };
    const make = (timesSeconds: readonly number[]) =>
      page.evaluate((asked) => window.framesPage.makeClip(asked), { ...plan, timesSeconds });
    const nobody = await make(Array.from({ length: 20 }, (_, index) => index / 10));
    await write('many/nobody.mp4', nobody);
    await writeFile(join(folder, 'many/half.MOV'), Buffer.from(nobody, 'base64').subarray(0, 300));
    await write('many/four-hours.mp4', await make(Array.from({ length: 241 }, (_, index) => index * 60)));
    await writeFile(join(folder, 'many/empty.mp4'), '');
    await writeFile(join(folder, 'many/letter.webm'), 'Dear all. '.repeat(100));
    await copyFile(local('tests/fixtures/clips/hevc-rotated-uneven.mp4'), join(folder, 'many/phone.mov'));
  } finally {
    await browser.close();
  }
});
afterAll(() => rm(folder, { recursive: true, force: true }));

describe('npm run measure', () => {
  const hold = ['--exercise', 'hold', '--side', 'right'];

  it('measures one clip by a path from where the person was, and writes record, frames and summary', async () => {
    const ended = await measure(['one/arm hold.mp4', ...hold, '--stature-cm', '168', '--out', 'results/one']);
    expect(ended.stderr).toContain('100 % (1 of 1 clips)');
    expect(ended.code).toBe(0);
    expect(ended.stdout).toContain('arm hold.mp4');
    const out = join(folder, 'results/one');
    expect((await readdir(out)).toSorted()).toEqual([
      'arm hold.frames.csv',
      'arm hold.record.json',
      'summary.csv',
    ]);
    const frames = (await readFile(join(out, 'arm hold.frames.csv'), 'utf8')).trimEnd().split('\n');
    expect(frames[0]?.startsWith(`${FRAME_COLUMNS},`)).toBe(true);
    const record = sessionRecordSchema.parse(
      JSON.parse(await readFile(join(out, 'arm hold.record.json'), 'utf8')),
    );
    expect(record.source).toMatchObject({ kind: 'clip', label: 'arm hold.mp4', widthPx: 640, heightPx: 480 });
    expect(record.settings).toEqual({ exercise: 'hold', side: 'right', variant: null, statureCm: 168 });
    expect(record.sets[0]?.frames.frameCount).toBe(frames.length - 1);
    const row = (await summaryOf('results/one')).get('arm hold.mp4')?.split(',') ?? [];
    expect(row.slice(1, 3)).toEqual(['hold', 'right']);
    expect(Number(row[4])).toBe(frames.length - 1);
    expect(Number(row[5])).toBeGreaterThan(0.9);
    expect(row[15]).toBe('');
  });

  it('measures the good clips of a folder, says of each other one what is wrong, and ends with 1', async () => {
    // Without a program search path there is no ffmpeg.
    const ended = await measure(['many', ...hold, '--stature-cm', '168', '--out', 'results/many'], {
      PATH: folder,
      Path: folder,
    });
    expect(ended.code).toBe(1);
    const rows = await summaryOf('results/many');
    const sentences = {
      'empty.mp4': 'The clip holds no picture',
      'four-hours.mp4': 'longer than one hour',
      'half.MOV': 'damaged',
      'letter.webm': 'not a video that can be read',
      'nobody.mp4': 'Nobody is in the picture',
      'phone.mov': 'HEVC',
      'sound.m4v': 'sound only',
    };
    expect([...rows.keys()].toSorted()).toEqual(['arm hold.mp4', ...Object.keys(sentences)].toSorted());
    for (const [clip, sentence] of Object.entries(sentences)) {
      expect(rows.get(clip)).toContain(sentence);
      expect(ended.stdout).toContain(`${clip}: `);
    }
    // Measured beside others, the good clip gives the very same numbers as alone.
    const [beside, alone] = await Promise.all(
      ['many', 'one'].map((out) => readFile(join(folder, 'results', out, 'arm hold.frames.csv'), 'utf8')),
    );
    expect(beside).toBe(alone);
    // Where nobody was seen the record says so; where nothing could be read there is none.
    const written = await readdir(join(folder, 'results/many'));
    expect(written).toContain('nobody.record.json');
    expect(written).not.toContain('phone.record.json');
  });

  it.runIf(hasFfmpeg)(
    'converts by itself, upright and with the times kept, what the browser cannot decode',
    async () => {
      const ended = await measure(['many/phone.mov', ...hold, '--out', 'results/phone']);
      expect(ended.stderr).toContain('convert');
      const record = sessionRecordSchema.parse(
        JSON.parse(await readFile(join(folder, 'results/phone/phone.record.json'), 'utf8')),
      );
      expect(record.source).toMatchObject({ label: 'phone.mov', widthPx: 120, heightPx: 160 });
      // As tests/fixtures/clips/README.md says: tenths of a second, without 5 to 8 and 12.
      let tenthMs = 0;
      const times = record.sets[0]?.frames.timeTenthMs.map((step) => (tenthMs += step) / 10_000);
      expect(times).toEqual([0, 0.1, 0.2, 0.3, 0.4, 0.9, 1, 1.1, 1.3, 1.4, 1.5, 1.6, 1.7, 1.8, 1.9]);
      // A test picture: nobody is in it.
      expect(ended.code).toBe(1);
      expect((await summaryOf('results/phone')).get('phone.mov')).toContain('Nobody is in the picture');
    },
  );

  it.each([
    ['an unknown exercise', ['one', '--exercise', 'row', '--side', 'left']],
    ['a clip that is not there', ['gone.mp4', ...hold]],
    ['a folder without clips', ['results', ...hold]],
  ])('ends with 2, a sentence and how to see the help for %s', async (_, args) => {
    const ended = await measure(args);
    expect(ended.code).toBe(2);
    expect(ended.stderr).toMatch(/\n.*--help\n$/);
  });

  it('prints its help and ends with 0', async () => {
    expect(await measure(['--help'])).toMatchObject({
      code: 0,
      stdout: expect.stringContaining('--stature-cm') as unknown,
    });
  });
});
