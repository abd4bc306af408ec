import { describe, expect, it } from 'vitest';
import { LANDMARK_NAMES } from '../../../src/core/pose/landmark.ts';
import type { PoseFrame } from '../../../src/core/pose/pose-frame.ts';
import { cutSeries, joinSeries } from '../../../src/core/session/frame-pieces.ts';
import {
  asStored,
  decodeFrames,
  encodeFrames,
  frameSeriesSchema,
  secondsAcross,
} from '../../../src/core/session/quantised-frames.ts';
import { seededRandom } from '../../helpers/seeded-random.ts';
import { withPose } from '../../helpers/synthetic-body.ts';
import { curlFilm } from './sample-session.ts';

/** Frames of every kind: without a person, with and without a look for people and light, of changing size. */
function mixedFrames(): PoseFrame[] {
  const chance = seededRandom(3);
  return curlFilm(4).map((frame, index) => ({
    ...withPose(frame, (pose) => (chance() < 0.2 ? null : pose)),
    timeSeconds: 81234.5678 + index / 30 + chance() * 0.01,
    widthPx: index < 60 ? 640 : 480,
    heightPx: index < 60 ? 480 : 640,
    people: index % 7 === 0 ? 1 + Math.floor(chance() * 2) : null,
    brightness: index % 3 === 0 ? chance() * 255 : null,
  }));
}

function largestDifference(a: readonly number[], b: readonly number[]): number {
  expect(b).toHaveLength(a.length);
  return Math.max(...a.map((value, index) => Math.abs(value - (b[index] ?? NaN))));
}

describe('frames as whole numbers', () => {
  it('are cut into pieces that are what encoding their frames gives, and join again', () => {
    const frames = asStored(mixedFrames());
    const whole = encodeFrames(frames);
    const pieces = [...cutSeries(whole, 16)];
    expect(pieces).toEqual(pieces.map((_, i) => encodeFrames(frames.slice(16 * i, 16 * (i + 1)))));
    expect(joinSeries(pieces)).toEqual(whole);
  });

  it('come back within half a step of what was measured', () => {
    const frames = mixedFrames();
    const back = asStored(frames);
    const image = (of: PoseFrame[], pick: 'x' | 'y' | 'visibility'): number[] =>
      of.flatMap(({ pose }) => pose?.image.map((point) => point[pick]) ?? []);
    const world = (of: PoseFrame[]): number[] =>
      of.flatMap(({ pose }) => pose?.world.flatMap(({ x, y, z }) => [x, y, z]) ?? []);
    const times = (of: PoseFrame[]): number[] => of.map(({ timeSeconds }) => timeSeconds);
    expect(largestDifference(times(frames), times(back))).toBeLessThanOrEqual(0.00005 + 1e-9);
    expect(largestDifference(image(frames, 'x'), image(back, 'x'))).toBeLessThanOrEqual(0.05 + 1e-9);
    expect(largestDifference(image(frames, 'y'), image(back, 'y'))).toBeLessThanOrEqual(0.05 + 1e-9);
    const visibility = largestDifference(image(frames, 'visibility'), image(back, 'visibility'));
    expect(visibility).toBeLessThanOrEqual(0.005 + 1e-9);
    expect(largestDifference(world(frames), world(back))).toBeLessThanOrEqual(0.0005 + 1e-9);
  });

  it('keep size, people, light and whether somebody was found, frame by frame', () => {
    const frames = mixedFrames();
    const facts = (of: readonly PoseFrame[]): unknown[] =>
      of.map(({ widthPx, heightPx, people, brightness, pose }) => ({
        widthPx,
        heightPx,
        people,
        brightness: brightness === null ? null : Math.round(brightness),
        found: pose !== null,
      }));
    expect(facts(asStored(frames))).toEqual(facts(frames));
  });

  it('give the same whole numbers when they are stored again, also by way of a file', () => {
    const once = encodeFrames(mixedFrames());
    expect(encodeFrames(decodeFrames(once))).toEqual(once);
    const fromFile = frameSeriesSchema.parse(JSON.parse(JSON.stringify(once)));
    expect(fromFile).toEqual(once);
    expect(decodeFrames(fromFile)).toEqual(decodeFrames(once));
  });

  it('are the same in one piece or in many', () => {
    const frames = mixedFrames();
    const pieces = [0, 1, 2, 40, 41, 120].map((start, index, starts) =>
      encodeFrames(frames.slice(start, starts[index + 1])),
    );
    expect(joinSeries(pieces)).toEqual(encodeFrames(frames));
    expect(secondsAcross(pieces)).toBeCloseTo(secondsAcross([encodeFrames(frames)]), 9);
  });

  it('hold no minus zero, which a file would not keep', () => {
    const frames = curlFilm(0.2).map((frame) =>
      withPose(frame, (pose) => ({
        ...pose,
        world: pose.world.map((point) => ({ ...point, x: -0.0001 })),
      })),
    );
    expect(encodeFrames(frames).landmarks.nose.worldXMm.every((step) => Object.is(step, 0))).toBe(true);
  });

  it('take a pose with a coordinate that is not a number as nobody found', () => {
    const [frame] = curlFilm(0.1);
    if (frame === undefined) throw new Error('no frame');
    const broken = withPose(frame, (pose) => ({
      ...pose,
      image: pose.image.map((point, index) => (index === 15 ? { ...point, y: NaN } : point)),
    }));
    expect(asStored([broken])[0]?.pose).toBeNull();
    const short = withPose(frame, (pose) => ({ ...pose, world: pose.world.slice(1) }));
    expect(asStored([short])[0]?.pose).toBeNull();
  });

  it('refuse frames whose time does not rise', () => {
    const [frame] = curlFilm(0.1);
    if (frame === undefined) throw new Error('no frame');
    expect(() => encodeFrames([frame, frame])).toThrow('frame 1 does not rise');
  });

  it('can be none at all', () => {
    expect(decodeFrames(encodeFrames([]))).toEqual([]);
    expect(frameSeriesSchema.safeParse(encodeFrames([])).success).toBe(true);
    expect(secondsAcross([])).toBe(0);
  });

  it('take less than 2 MB a minute at 30 frames a second', () => {
    const text = JSON.stringify(encodeFrames(curlFilm(60)));
    expect(text.length).toBeLessThan(2_000_000);
  });
});

describe('a stored series that contradicts itself is refused', () => {
  const good = encodeFrames(mixedFrames());
  const wrist = good.landmarks.left_wrist;
  const cases: [string, unknown][] = [
    ['a time is missing', { ...good, timeTenthMs: good.timeTenthMs.slice(1) }],
    ['time stands still', { ...good, timeTenthMs: good.timeTenthMs.with(5, 0) }],
    ['a run is too long', { ...good, people: [[good.frameCount + 1, null]] }],
    ['the frames are fewer than said', { ...good, frameCount: good.frameCount + 1 }],
    [
      'a column is short',
      {
        ...good,
        landmarks: { ...good.landmarks, left_wrist: { ...wrist, yTenthPx: wrist.yTenthPx.slice(1) } },
      },
    ],
    [
      'a visibility is over 100',
      {
        ...good,
        landmarks: {
          ...good.landmarks,
          left_wrist: { ...wrist, visibilityPercent: wrist.visibilityPercent.with(0, 101) },
        },
      },
    ],
    [
      'a step is no whole number',
      {
        ...good,
        landmarks: { ...good.landmarks, left_wrist: { ...wrist, xTenthPx: wrist.xTenthPx.with(1, 0.5) } },
      },
    ],
    ['a landmark is missing', { ...good, landmarks: { ...good.landmarks, left_wrist: undefined } }],
    ['a landmark is unknown', { ...good, landmarks: { ...good.landmarks, tail: wrist } }],
  ];
  it.each(cases)('when %s', (_, series) => {
    expect(frameSeriesSchema.safeParse(good).success).toBe(true);
    expect(frameSeriesSchema.safeParse(series).success).toBe(false);
  });

  it('has a column set for each of the 33 landmarks', () => {
    expect(Object.keys(good.landmarks)).toEqual([...LANDMARK_NAMES]);
  });
});
