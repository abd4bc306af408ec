import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { readTable } from '../../../scripts/demo-check/read-table.ts';
import { elbowFlexionDeg } from '../../../src/core/kinematics/geometry.ts';
import { sidedIndex } from '../../../src/core/pose/landmark.ts';
import type { PoseFrame } from '../../../src/core/pose/pose-frame.ts';
import { openSourceBrowser, type SourceBrowser } from '../../helpers/source-browser.ts';
import type { ClipPlayed } from './in-page.ts';

/** Its first repetition, in which full puts the near elbow far from where it is. */
const CLIP = 'body-curl-strict';
const SIDE = 'left';
const CLIP_SECONDS = 7;
const RATE_HZ = 3;

let browser: SourceBrowser;
let full: ClipPlayed;
let combined: ClipPlayed;

beforeAll(async () => {
  browser = await openSourceBrowser();
  const page = await browser.openPage('/tests/campaign/pose-clips/in-page.ts');
  await page.waitForFunction(() => Reflect.has(window, 'poseClipsPage'));
  const base64 = await page.evaluate(
    ([clip, seconds]) => window.poseClipsPage.cutClip(`/demo-clips/${clip}.mp4`, seconds),
    [CLIP, CLIP_SECONDS] as const,
  );
  const measure = (model: 'full' | 'combined') =>
    page.evaluate((play) => window.poseClipsPage.measure(play), {
      from: { base64 },
      workers: 2,
      rateHz: RATE_HZ,
      side: SIDE,
      model,
    } as const);
  full = await measure('full');
  combined = await measure('combined');
});
afterAll(() => browser.close());

const truth = readTable(join(import.meta.dirname, '../../../demo-clips', `${CLIP}.truth.csv`));
const rowAt = (timeSeconds: number): number => Math.round(timeSeconds * 30);
const trueAt = (timeSeconds: number, column: string): number =>
  truth.number(rowAt(timeSeconds), column) ?? NaN;

function placeOf({ pose }: PoseFrame, joint: 'shoulder' | 'elbow' | 'wrist') {
  const point = pose?.image[sidedIndex(SIDE, joint)];
  return { forward: point?.x ?? NaN, up: -(point?.y ?? NaN) };
}

function meanOf(values: readonly number[]): number {
  return values.reduce((sum, value) => sum + value, 0) / values.length;
}

/** Mean absolute error of the angle between landmarks in the picture against that between the true joints there. */
function angleErrorDeg({ frames }: ClipPlayed): number {
  return meanOf(
    frames.map((frame) => {
      const [shoulder, elbow, wrist] = [
        placeOf(frame, 'shoulder'),
        placeOf(frame, 'elbow'),
        placeOf(frame, 'wrist'),
      ];
      const seenDeg = elbowFlexionDeg(shoulder, elbow, wrist);
      return Math.abs((seenDeg ?? NaN) - trueAt(frame.timeSeconds, 'projected_elbow_flexion_deg'));
    }),
  );
}

/** Mean distance of the elbow from where it is, pixels. */
function elbowErrorPx({ frames }: ClipPlayed): number {
  return meanOf(
    frames.map((frame) => {
      const { forward, up } = placeOf(frame, 'elbow');
      const [x, y] = [
        trueAt(frame.timeSeconds, `${SIDE}_elbow_x_px`),
        trueAt(frame.timeSeconds, `${SIDE}_elbow_y_px`),
      ];
      return Math.hypot(forward - x, up + y);
    }),
  );
}

describe('a clip measured with three looks at each picture', () => {
  it('has the pictures that one look measures, and says what measured it', () => {
    expect(combined.error).toBeNull();
    expect(combined.end).toEqual({ kind: 'finished' });
    expect(combined.frames.map(({ timeSeconds }) => timeSeconds)).toEqual(
      full.frames.map(({ timeSeconds }) => timeSeconds),
    );
    expect(combined.frames).toHaveLength(CLIP_SECONDS * RATE_HZ);
    expect(combined.shares.at(-1)).toBe(1);
    expect(full.identity.model).toBe('blazepose-full');
    expect(combined.identity.model).toBe('blazepose-combined');
    expect(combined.identity.modelSha256s).toHaveLength(2);
    expect(combined.identity.modelSha256s).toEqual(expect.arrayContaining(full.identity.modelSha256s));
  });

  it('finds other places than one look, and these are at least as near to the true ones', () => {
    const [ofFull, ofCombined] = [angleErrorDeg(full), angleErrorDeg(combined)];
    console.log(
      `elbow in the picture: full ${ofFull.toFixed(2)} deg, ${elbowErrorPx(full).toFixed(1)} px; combined ${ofCombined.toFixed(2)} deg, ${elbowErrorPx(combined).toFixed(1)} px`,
    );
    expect(elbowErrorPx(combined)).not.toBeCloseTo(elbowErrorPx(full), 1);
    expect(elbowErrorPx(combined)).toBeLessThanOrEqual(elbowErrorPx(full));
    expect(ofCombined).toBeLessThanOrEqual(ofFull);
  });
});
