import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { sidedIndex } from '../../../src/core/pose/landmark.ts';
import { hasTrace, readTrace, writeTrace } from '../../yardstick/trace-files.ts';
import { foundFrames, isCurrent, parseTrace, traceOf } from '../../yardstick/trace.ts';
import { caseOf, imaginedPoses, momentsOf } from './imagined-case.ts';

const CLIP = 'body-curl-strict';
const drawnCase = caseOf(CLIP, momentsOf(CLIP, 12));
const found = imaginedPoses(
  drawnCase,
  () => ({ x: 1.234, y: -2 }),
  (moment) => moment.truth.elbowFlexionDeg < 100,
);

describe('trace of a case', () => {
  it('gives back what was found, to the steps of the record, and where nobody was', () => {
    const frames = foundFrames(parseTrace(JSON.parse(JSON.stringify(traceOf(drawnCase, found)))), 'heavy');
    expect(frames.map(({ timeSeconds }) => timeSeconds)).toHaveLength(12);
    expect(frames.map(({ pose }) => pose === null)).toEqual(found.heavy.map((pose) => pose === null));
    expect(frames.some(({ pose }) => pose === null)).toBe(true);
    const elbow = sidedIndex('left', 'elbow');
    frames.forEach(({ pose, timeSeconds }, i) => {
      expect(timeSeconds).toBeCloseTo(drawnCase.drawnTimesSeconds[i] ?? NaN, 4);
      const before = found.heavy[i];
      if (pose === null) return;
      expect(Math.abs((pose.image[elbow]?.x ?? NaN) - (before?.image[elbow]?.x ?? NaN))).toBeLessThan(0.051);
      expect(pose.world[elbow]?.z).toBeCloseTo(before?.world[elbow]?.z ?? NaN, 3);
    });
  });

  it('is stale as soon as seed, room, camera or a moment is another', () => {
    const trace = traceOf(drawnCase, found);
    const { outline } = drawnCase;
    expect(isCurrent(drawnCase, trace)).toBe(true);
    const changed = [
      { ...outline, seed: outline.seed + 1 },
      { ...outline, room: { ...outline.room, noise: outline.room.noise * 2 } },
      { ...outline, camera: { ...outline.camera, yawDeg: outline.camera.yawDeg + 1 } },
    ];
    for (const other of changed) expect(isCurrent({ ...drawnCase, outline: other }, trace)).toBe(false);
    const later = drawnCase.drawnTimesSeconds.map((time) => time + 0.01);
    expect(isCurrent({ ...drawnCase, drawnTimesSeconds: later }, trace)).toBe(false);
  });

  it('is stale when the movement is another, though nothing that is written down changed', () => {
    const trace = traceOf(drawnCase, found);
    const [person] = drawnCase.outline.people;
    const perform: typeof person.perform = (body, random) => {
      const performance = person.perform(body, random);
      return { ...performance, postureAt: (timeS) => performance.postureAt(timeS * 0.9) };
    };
    const outline = { ...drawnCase.outline, people: [{ ...person, perform }] as const };
    expect(isCurrent({ ...drawnCase, outline }, trace)).toBe(false);
  });

  it('refuses too few poses, and content that is no trace', () => {
    expect(() => traceOf(drawnCase, { ...found, full: found.full.slice(1) })).toThrow(/11 poses/);
    const trace = traceOf(drawnCase, found);
    expect(() => parseTrace({ ...trace, version: 2 })).toThrow();
    const { full, heavy } = trace.series;
    expect(() => parseTrace({ ...trace, series: { full, heavy } })).toThrow();
  });

  it('is kept in a file and read back', () => {
    const folder = mkdtempSync(join(tmpdir(), 'traces-'));
    try {
      expect(hasTrace(CLIP, folder)).toBe(false);
      expect(() => readTrace(CLIP, folder)).toThrow(/no trace of body-curl-strict/);
      const trace = traceOf(drawnCase, found);
      expect(writeTrace(trace, folder)).toBeGreaterThan(100);
      expect(readTrace(CLIP, folder)).toEqual(trace);
    } finally {
      rmSync(folder, { recursive: true });
    }
  });
});
