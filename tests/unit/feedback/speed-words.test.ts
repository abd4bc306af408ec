import { describe, expect, it } from 'vitest';
import { runningRows, runningText, type RunningFacts } from '../../../src/core/feedback/diagnostics-words.ts';
import { networkLoadedShare, networkLoadingWords } from '../../../src/core/feedback/network-loading-words.ts';
import { slowSetSentence, speedLine, verdictSentence } from '../../../src/core/feedback/speed-words.ts';
import { SpeedLog, speedOf, type PictureSpeed } from '../../../src/core/pose/picture-speed.ts';
import type { FrameTiming } from '../../../src/core/pose/pose-service.ts';

const TIMING: FrameTiming = { workMs: 30, networkMs: 22, latencyMs: 50, dropped: 1 };

/** Pictures every 100 ms; one that was late by 400 ms and held up the next. */
function speed(timing: Partial<FrameTiming> = {}): PictureSpeed {
  const log = new SpeedLog(10);
  for (let k = 0; k <= 100; k += 1) {
    const late = k === 50 ? 400 : 0;
    log.take({
      arrivedSeconds: k / 10 + (k > 50 ? 0.4 : 0),
      timing: { ...TIMING, latencyMs: (TIMING.latencyMs ?? 0) + late, ...timing },
    });
  }
  const found = speedOf(log.since(0));
  if (found === null) throw new Error('no speed');
  return found;
}

describe('speed of pictures', () => {
  it('counts intervals, not pictures, and what was passed over', () => {
    expect(speed().rateHz).toBeCloseTo(100 / 10.4, 9);
    expect(speed().passedOverHz).toBeCloseTo(100 / 10.4, 9);
    expect(speed().workShare).toBeCloseTo((100 * 0.03) / 10.4, 9);
  });

  it('gives the age of the number just before the next one comes', () => {
    expect(speed().ageMs).toBeCloseTo(150, 6);
    expect(speed({ latencyMs: null }).ageMs).toBeCloseTo(130, 6);
    expect(speed().latencyMs).toMatchObject({ median: 50, largest: 450 });
  });

  it('says nothing of one picture, and lets old ones go', () => {
    const log = new SpeedLog(10);
    log.take({ arrivedSeconds: 0, timing: TIMING });
    expect(speedOf(log.since(0))).toBeNull();
    for (let k = 0; k < 2000; k += 1) log.take({ arrivedSeconds: k / 30, timing: TIMING });
    expect(log.since(0).length).toBeLessThanOrEqual(601);
    expect(log.since(2000 / 30 - 10).length).toBeGreaterThanOrEqual(299);
  });
});

describe('words of speed', () => {
  it('say in one line how many pictures, by which network, and how old numbers are', () => {
    expect(speedLine('full', speed())).toBe(
      'Measuring 10 pictures a second with the full network; numbers are 0.15 s old.',
    );
    expect(speedLine('lite', speed({ latencyMs: null }))).toContain('numbers are at least 0.13 s old');
  });

  it('say what to do only where there is something to do', () => {
    expect(verdictSentence('good', 'automatic', false)).toBeNull();
    expect(verdictSentence('checking', 'heavy', false)).toBeNull();
    expect(verdictSentence('too-slow', 'automatic', false)).toMatch(
      /plug in the charger.*clips are judged at any speed/,
    );
    expect(verdictSentence('too-slow', 'heavy', false)).toContain('Choose “automatic” or “lite”');
    expect(verdictSentence('camera-slow', 'automatic', false)).toContain('more light');
    expect(verdictSentence('camera-slow', 'automatic', true)).toContain(
      'The call gives too few new pictures',
    );
    expect(verdictSentence('late', 'automatic', false)).toContain('the record is as good as ever');
  });

  it('tell loading in megabytes, and when all of them are there', () => {
    expect(networkLoadingWords(null)).toBe('Loading the pose network');
    expect(networkLoadingWords({ loadedBytes: 6_400_000, totalBytes: 15_900_000 })).toBe(
      'Loading the pose network: 6 of 16 MB',
    );
    expect(networkLoadingWords({ loadedBytes: 16, totalBytes: 16 })).toBe('Starting the pose network');
    expect(networkLoadedShare({ loadedBytes: 4, totalBytes: 16 })).toBe(0.25);
    expect(networkLoadedShare({ loadedBytes: 16, totalBytes: 16 })).toBeNull();
    expect(networkLoadedShare(null)).toBeNull();
  });
});

describe('how it runs', () => {
  const facts: RunningFacts = {
    software: 'Forearmed 1.0.0',
    browser: 'a browser',
    identity: {
      model: 'blazepose-lite',
      runtime: '@litertjs/core 2.5.3, CPU',
      modelSha256s: ['ab'.repeat(32)],
    },
    backend: 'cpu',
    speed: speed(),
    isLive: true,
    picture: { widthPx: 640, heightPx: 480 },
    longestPauseMs: 0,
    memoryBytes: 64_200_000,
  };
  const row = (name: string, changed: Partial<RunningFacts> = {}): string | undefined =>
    runningRows({ ...facts, ...changed }).find(([each]) => each === name)?.[1];

  it('is told in figures', () => {
    expect(row('Pose network')).toBe('lite');
    expect(row('Computes on')).toBe('processor');
    expect(row('Measured')).toBe('9.6 pictures a second');
    expect(row('From capture to number')).toBe('median 50 ms, 95 % below 50 ms, largest 450 ms');
    expect(row('Longest pause of the page')).toBe('none over 50 ms in the last 10 s');
    expect(row('Memory of the page')).toBe('64 MB');
  });

  it('says what a browser or library does not tell, never a 0', () => {
    const untold = { speed: speed({ latencyMs: null, networkMs: null, dropped: null }) };
    expect(row('From capture to number', untold)).toBe('not told by this browser');
    expect(row('The network’s part', untold)).toBe('not told by the library');
    expect(row('Passed over', untold)).toBe('not counted');
    expect(row('Memory of the page', { memoryBytes: null })).toBe('not told by this browser');
    expect(row('Longest pause of the page', { longestPauseMs: null })).toBe('not told by this browser');
    expect(row('Measured', { speed: null })).toBe('not known yet');
    expect(row('Computes on', { backend: null })).toBe('not loaded yet');
  });

  it('is copied with software, browser and the hash of the network', () => {
    const lines = runningText(facts).split('\n');
    expect(lines).toContain('Software: Forearmed 1.0.0');
    expect(lines).toContain('Computes on: processor');
    expect(lines.at(-1)).toBe(`File of the network, SHA-256: ${'ab'.repeat(32)}`);
  });
});

describe('a recorded set of which too few pictures were measured', () => {
  it('says so with the rate, below eight a second only', () => {
    expect(slowSetSentence(4.52)).toContain('Only 4.5 pictures a second');
    expect(slowSetSentence(8)).toBeNull();
    expect(slowSetSentence(25)).toBeNull();
    expect(slowSetSentence(null)).toBeNull();
  });
});
