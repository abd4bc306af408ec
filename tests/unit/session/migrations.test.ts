import { readdirSync, readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { describe, expect, it } from 'vitest';
import { recordSentence } from '../../../src/core/feedback/storage-problems.ts';
import { migrate, migrationsUpTo } from '../../../src/core/documents/stepwise-migration.ts';
import { readHeader, readRecord, readRecordValue } from '../../../src/core/session/migrations.ts';
import { recomputeSet } from '../../../src/core/session/build-session.ts';
import {
  findingsOf,
  headerOf,
  RECORD_VERSION,
  type SessionRecord,
} from '../../../src/core/session/session-record.ts';
import { holdFilm, recordOf, sampleHeader } from './sample-session.ts';

const SAMPLES = fileURLToPath(new URL('../../fixtures/records/', import.meta.url));

const record = recordOf([holdFilm(4)], sampleHeader('hold'));
const text = JSON.stringify(record);
const [set] = record.sets;

/** What a text is refused for, or "read". */
function outcome(of: string): string {
  const reading = readRecord(of);
  return reading.ok ? 'read' : reading.problem.kind;
}

describe('the gate for session records', () => {
  it('reads what was written, also behind a byte order mark', () => {
    expect(readRecord(text)).toEqual({ ok: true, record });
    expect(outcome(`\uFEFF${text}`)).toBe('read');
  });

  it('calls a text that was cut short damaged, wherever it was cut', () => {
    for (const share of [0, 0.001, 0.1, 0.5, 0.9, 0.9999])
      expect(outcome(text.slice(0, Math.floor(text.length * share)))).toBe('not-json');
  });

  it.each([
    ['an empty file', ''],
    ['plain words', 'time_s,elbow_flexion_deg\n0,90\n'],
    ['a picture', '\u0089PNG\r\n\u001a\n'],
  ])('says that %s is no readable text of a record', (_, of) => {
    expect(outcome(of)).toBe('not-json');
  });

  it.each([
    ['null', null],
    ['a number', 3],
    ['a list', [record]],
    ['another object', { name: 'forearmed', version: '0.1.0' }],
    ['a record with another mark', { ...record, format: 'another-record' }],
    ['a record without its mark', { ...record, format: undefined }],
  ])('says that %s is not ours', (_, value) => {
    expect(outcome(JSON.stringify(value))).toBe('not-ours');
  });

  it('says which version wrote a record that is too new', () => {
    const newer = readRecord(JSON.stringify({ ...record, schemaVersion: RECORD_VERSION + 1, more: true }));
    if (newer.ok) throw new Error('read');
    expect(newer.problem).toEqual({
      kind: 'newer-version',
      version: RECORD_VERSION + 1,
      readableVersion: RECORD_VERSION,
    });
    expect(recordSentence(newer.problem)).toContain(`version ${RECORD_VERSION + 1}`);
  });

  it.each([
    ['a version that is no number', { schemaVersion: '1' }, 'schemaVersion'],
    ['a version below the first', { schemaVersion: 0 }, 'schemaVersion'],
    ['a broken version', { schemaVersion: 1.5 }, 'schemaVersion'],
    ['a time without offset', { createdAt: '2026-03-02T18:05:09' }, 'createdAt'],
    ['a side that does not exist', { settings: { ...record.settings, side: 'middle' } }, 'settings.side'],
    ['sets that are no list', { sets: {} }, 'sets'],
    ['a set without frames', { sets: [{ ...set, frames: undefined }] }, 'sets.0.frames'],
    [
      'a pain of eleven',
      { sets: [{ ...set, answers: { ...set?.answers, painAfter: 11 } }] },
      'sets.0.answers.painAfter',
    ],
    [
      'a threshold that is a word',
      { thresholds: { ...record.thresholds, toleranceDeg: 'ten' } },
      'thresholds.toleranceDeg',
    ],
    ['something that does not belong in a record', { picture: 'data:image/png;base64,' }, 'the whole record'],
  ])('refuses %s and says where it is', (_, change, path) => {
    const reading = readRecord(JSON.stringify({ ...record, ...change }));
    if (reading.ok || reading.problem.kind !== 'damaged')
      throw new Error(JSON.stringify(reading).slice(0, 200));
    expect(reading.problem.path).toBe(path);
    expect(recordSentence(reading.problem)).toContain(path);
  });

  it('never lets a character lost on the way through as a different figure', () => {
    // Every one of some hundred single deletions either breaks the text or is still the whole record with another
    // figure in a column; then the columns must still agree with each other. It must not crash.
    for (let at = 0; at < text.length; at += Math.ceil(text.length / 150)) {
      const reading = readRecord(text.slice(0, at) + text.slice(at + 1));
      if (!reading.ok) expect(recordSentence(reading.problem)).toMatch(/\.$/);
      else expect(reading.record.sets[0]?.frames.frameCount).toBe(set?.frames.frameCount);
    }
  });
});

describe('samples of every version that was ever written', () => {
  const names = readdirSync(SAMPLES).filter((name) => name.endsWith('.record.json'));

  it('has one for each version', () => {
    const versions = new Set(names.map((name) => /^v(\d+)-/.exec(name)?.[1]));
    expect([...versions].sort()).toEqual(
      Array.from({ length: RECORD_VERSION }, (_, index) => `${index + 1}`),
    );
  });

  it.each(names)('reads %s', (name) => {
    const reading = readRecord(readFileSync(SAMPLES + name, 'utf8'));
    if (!reading.ok) throw new Error(JSON.stringify(reading.problem));
    expect(reading.record.schemaVersion).toBe(RECORD_VERSION);
    expect(reading.record.sets.length).toBeGreaterThan(0);
  });
});

describe('records of version 2', () => {
  it('keep the network’s file, as the one of a list', () => {
    const reading = readRecord(readFileSync(`${SAMPLES}v2-body-curl.record.json`, 'utf8'));
    expect(reading.ok && reading.record.estimator).toEqual({
      model: 'blazepose-full',
      runtime: 'stick body, seeded',
      modelSha256s: ['a'.repeat(64)],
    });
  });

  it('keeps what older records said of curl or row, and says that the share of the work was not worked out', () => {
    const older: unknown = JSON.parse(readFileSync(`${SAMPLES}v2-body-curl.record.json`, 'utf8'));
    const reading = readRecordValue(older);
    if (!reading.ok) throw new Error(JSON.stringify(reading.problem));
    expect(older).toMatchObject({ thresholds: { dominanceVotes: 3 } });
    expect(reading.record.thresholds).toMatchObject({ shoulderWorkShare: 0.5, workShareGreyZone: 0.15 });
    expect(reading.record.thresholds).not.toHaveProperty('dominanceVotes');
    const repetitions = reading.record.sets.flatMap(({ judgement }) => judgement.repetitions);
    expect(repetitions.length).toBeGreaterThan(0);
    for (const { row } of repetitions)
      expect(row?.shoulderWorkShare).toEqual({ notMeasured: 'not-applicable' });
    expect(older).toMatchObject({
      sets: reading.record.sets.map(({ judgement }) => ({
        judgement: {
          repetitions: judgement.repetitions.map(({ shoulderDominant }) => ({ shoulderDominant })),
        },
      })),
    });
  });
});

describe('records of version 3', () => {
  const older: unknown = JSON.parse(readFileSync(`${SAMPLES}v3-body-curl.record.json`, 'utf8'));

  it('followed no plan, and were not asked for effort or the hardest place; all else stays', () => {
    const reading = readRecordValue(older);
    if (!reading.ok) throw new Error(JSON.stringify(reading.problem));
    expect(older).not.toHaveProperty('plan');
    const { plan, sets, ...header } = reading.record;
    expect(plan).toBeNull();
    expect({ ...header, schemaVersion: 3 }).toEqual({ ...(older as object), sets: undefined });
    expect(sets.length).toBeGreaterThan(0);
    for (const { answers } of sets) expect(answers).toMatchObject({ effort: null, hardest: null });
    expect(older).toMatchObject({
      sets: sets.map(
        ({
          answers: { effort: _effort, hardest: _hardest, ...answers },
          cues: _cues,
          pauses: _pauses,
          tile: _tile,
          ...set
        }) => ({
          ...set,
          answers,
        }),
      ),
    });
  });

  it('keep answers that newer code gave to a session begun before', () => {
    const { sets } = older as { sets: { answers: object }[] };
    const answered = sets.map((set) => ({ ...set, answers: { ...set.answers, effort: 5, hardest: 'bent' } }));
    const reading = readRecordValue({ ...(older as object), sets: answered });
    if (!reading.ok) throw new Error(JSON.stringify(reading.problem));
    for (const { answers } of reading.record.sets)
      expect(answers).toMatchObject({ effort: 5, hardest: 'bent' });
  });
});

describe('records of version 4', () => {
  const older: unknown = JSON.parse(readFileSync(`${SAMPLES}v4-body-curl.record.json`, 'utf8'));

  it('kept no cue and no pause; all else stays', () => {
    const reading = readRecordValue(older);
    if (!reading.ok) throw new Error(JSON.stringify(reading.problem));
    expect(reading.record.sets.length).toBeGreaterThan(0);
    for (const { cues, pauses } of reading.record.sets) expect([cues, pauses]).toEqual([[], []]);
    expect({
      ...reading.record,
      schemaVersion: 4,
      sets: reading.record.sets.map(({ cues: _cues, pauses: _pauses, tile: _tile, ...set }) => set),
    }).toEqual(older);
  });

  it('keep cues that newer code gave in a session begun before', () => {
    const { sets } = older as { sets: object[] };
    const cue = {
      timeSeconds: 4,
      cue: 'ease-off',
      words: 'Ease off',
      by: 'tone',
      why: { what: 'hand-rising', repetition: null, measured: null },
    };
    const reading = readRecordValue({
      ...(older as object),
      sets: sets.map((set) => ({ ...set, cues: [cue] })),
    });
    if (!reading.ok) throw new Error(JSON.stringify(reading.problem));
    for (const { cues } of reading.record.sets) expect(cues).toEqual([cue]);
  });
});

describe('records of version 5', () => {
  const older: unknown = JSON.parse(readFileSync(`${SAMPLES}v5-body-curl.record.json`, 'utf8'));

  it('measured whole pictures, and lose nothing', () => {
    const reading = readRecordValue(older);
    if (!reading.ok) throw new Error(JSON.stringify(reading.problem));
    for (const { tile } of reading.record.sets) expect(tile).toBeNull();
    expect({
      ...reading.record,
      schemaVersion: 5,
      sets: reading.record.sets.map(({ tile: _tile, ...set }) => set),
    }).toEqual(older);
  });

  it('keep a tile that newer code framed in a session begun before', () => {
    const tile = {
      leftPx: 2,
      topPx: 4,
      widthPx: 300,
      heightPx: 200,
      ofWidthPx: 640,
      ofHeightPx: 480,
      isMirrored: true,
    };
    const { sets } = older as { sets: object[] };
    const reading = readRecordValue({ ...(older as object), sets: sets.map((set) => ({ ...set, tile })) });
    if (!reading.ok) throw new Error(JSON.stringify(reading.problem));
    for (const { tile: kept } of reading.record.sets) expect(kept).toEqual(tile);
  });
});

describe('records of version 6', () => {
  const kept = JSON.parse(readFileSync(`${SAMPLES}v6-body-curl.record.json`, 'utf8')) as SessionRecord;
  const [set] = kept.sets;

  it('are read as they were written', () => {
    expect(readRecordValue(kept)).toEqual({ ok: true, record: kept });
    expect(set?.cues.length).toBeGreaterThan(0);
    expect(set?.tile).toMatchObject({ leftPx: 640, ofWidthPx: 1280 });
  });

  it('give the same findings again, the time of a pause left out', () => {
    if (set === undefined) throw new Error('no set');
    const [pause] = set.pauses;
    expect(recomputeSet(kept, 0).findings).toEqual(findingsOf(set));
    const { frames } = recomputeSet(kept, 0);
    const wholeSeconds = (frames.at(-1)?.timeSeconds ?? 0) - (frames[0]?.timeSeconds ?? 0);
    const pausedSeconds = (pause?.endSeconds ?? 0) - (pause?.startSeconds ?? 0);
    expect(pausedSeconds).toBeGreaterThan(10);
    expect(set.measuredTime.totalSeconds).toBeCloseTo(wholeSeconds - pausedSeconds, 3);
    expect(set.measuredTime.share).toBe(1);
  });

  it.each([
    ['a cue that does not exist', { cues: [{ ...set?.cues[0], cue: 'hurry' }] }, 'sets.0.cues.0.cue'],
    ['a cue without its reason', { cues: [{ ...set?.cues[0], why: undefined }] }, 'sets.0.cues.0.why'],
    ['a pause without its end', { pauses: [{ startSeconds: 1 }] }, 'sets.0.pauses.0.endSeconds'],
  ])('are refused with %s', (_, change, path) => {
    const reading = readRecordValue({ ...kept, sets: [{ ...set, ...change }] });
    if (reading.ok || reading.problem.kind !== 'damaged') throw new Error('read');
    expect(reading.problem.path).toBe(path);
  });

  it.each([
    ['a plan of version 0', { planVersion: 0 }, 'plan.planVersion'],
    ['a plan without a day', { dayId: undefined }, 'plan.dayId'],
    ['a stage with markup for a name', { stageKey: '<b>' }, 'plan.stageKey'],
  ])('are refused with %s', (_, change, path) => {
    const reading = readRecordValue({ ...kept, plan: { ...kept.plan, ...change } });
    if (reading.ok || reading.problem.kind !== 'damaged') throw new Error('read');
    expect(reading.problem.path).toBe(path);
  });
});

describe('headers as they were kept', () => {
  it('are brought to this version', () => {
    const older = JSON.parse(readFileSync(`${SAMPLES}v2-body-curl.record.json`, 'utf8')) as SessionRecord;
    const header = readHeader(headerOf(older));
    expect(header).toMatchObject({ id: older.id, schemaVersion: RECORD_VERSION, plan: null });
    expect(header?.estimator.modelSha256s).toEqual(['a'.repeat(64)]);
    expect(readHeader({ ...headerOf(older), settings: null })).toBeNull();
  });
});

describe('migration in steps', () => {
  const steps = [
    { from: 1, migrate: (older: object) => ({ ...older, two: true }) },
    { from: 2, migrate: (older: object) => ({ ...older, three: true }) },
  ];

  it('takes a record through every step from its own version on', () => {
    expect(migrate({ schemaVersion: 1 }, 1, steps)).toEqual({ schemaVersion: 3, two: true, three: true });
    expect(migrate({ schemaVersion: 2 }, 2, steps)).toEqual({ schemaVersion: 3, three: true });
    expect(migrate({ schemaVersion: 3 }, 3, steps)).toEqual({ schemaVersion: 3 });
  });

  it('refuses steps that are missing, doubled or out of order', () => {
    expect(migrationsUpTo(3, steps)).toBe(steps);
    expect(() => migrationsUpTo(4, steps)).toThrow('Migrations must start at versions 1, 2, 3');
    expect(() => migrationsUpTo(2, steps)).toThrow();
    expect(() => migrationsUpTo(3, steps.toReversed())).toThrow();
  });
});
