import { describe, expect, it } from 'vitest';
import { FIT_LIMITS, NETWORK_COST } from '../../../src/core/pose/fit-limits.ts';
import { isDue } from '../../../src/core/pose/picture-rate.ts';
import type { PacedPicture } from '../../../src/core/pose/picture-speed.ts';
import type { PoseModel } from '../../../src/core/pose/pose-service.ts';
import {
  beginFit,
  isTooSlowNow,
  stepFit,
  stepSecondsOf,
  withNetwork,
  type SpeedFit,
} from '../../../src/core/pose/speed-fit.ts';
import { seededRandom } from '../../helpers/seeded-random.ts';

/** A machine with a camera. */
interface Machine {
  /** Work of the full network for a picture, milliseconds, as it changes with time. */
  readonly fullWorkMs: (timeSeconds: number) => number;
  readonly cameraHz?: number;
  /** From capture to the start of the work, milliseconds; null where it is not told. */
  readonly waitMs?: number | null;
  /** Scatter of work and of the camera's steps, share. */
  readonly jitter?: number;
  /** False for pictures that nobody counts when they are passed over. */
  readonly counts?: boolean;
  readonly mayChange?: (timeSeconds: number) => boolean;
  /** Whether no picture comes at this time, seconds. */
  readonly isPaused?: (timeSeconds: number) => boolean;
}

interface Course {
  readonly fit: SpeedFit;
  /** Every network that computed, in order. */
  readonly models: readonly PoseModel[];
  readonly rates: readonly number[];
  readonly pictures: readonly PacedPicture[];
}

/** Plays a machine for some seconds: the newest picture is taken whenever the one before is done. */
function play(start: SpeedFit, machine: Machine, seconds: number): Course {
  const random = seededRandom(11);
  const scatter = (): number => 1 + (machine.jitter ?? 0) * (2 * random() - 1);
  const cameraHz = machine.cameraHz ?? 30;
  let fit = start;
  const models: PoseModel[] = [fit.model];
  const rates: number[] = [fit.rateHz];
  const pictures: PacedPicture[] = [];
  let freeSeconds = 0;
  let dropped = 0;
  let last: number | null = null;
  for (let k = 0; k < seconds * cameraHz; k += 1) {
    const captured = (k + 0.4 * (scatter() - 1)) / cameraHz;
    if (machine.isPaused?.(captured) === true) continue;
    const step = stepSecondsOf(fit);
    const isWanted = isDue(captured, last, step);
    const waitMs = machine.waitMs === undefined ? 15 : (machine.waitMs ?? 15);
    const begins = Math.max(captured + waitMs / 1000, freeSeconds);
    // The picture is overtaken by the next one before the machine is free.
    if (!isWanted || begins > captured + waitMs / 1000 + 1 / cameraHz) {
      dropped += 1;
      continue;
    }
    last = captured;
    const workMs = ((machine.fullWorkMs(captured) * NETWORK_COST[fit.model]) / NETWORK_COST.full) * scatter();
    freeSeconds = begins + workMs / 1000;
    const picture: PacedPicture = {
      arrivedSeconds: freeSeconds,
      timing: {
        workMs,
        networkMs: null,
        latencyMs: machine.waitMs === null ? null : (freeSeconds - captured) * 1000,
        dropped: machine.counts === false ? null : dropped,
      },
    };
    dropped = 0;
    pictures.push(picture);
    const next = stepFit(fit, picture, machine.mayChange?.(captured) ?? true);
    if (next.model !== models.at(-1)) models.push(next.model);
    if (next.rateHz !== rates.at(-1)) rates.push(next.rateHz);
    fit = next;
  }
  return { fit, models, rates, pictures };
}

const steady = (fullWorkMs: number) => () => fullWorkMs;
const automatic = () => beginFit('full', false);

describe('fitting network and rate to the machine', () => {
  it.each([0, 0.3])('keeps full at 30 a second on a quick machine, jitter %f', (jitter) => {
    const { fit, models, rates } = play(automatic(), { fullWorkMs: steady(18), jitter }, 20);
    expect(models).toEqual(['full']);
    expect(rates).toEqual([30]);
    expect(fit.verdict).toBe('good');
    expect(fit.speed?.rateHz).toBeCloseTo(30, 0);
    expect(stepSecondsOf(fit)).toBe(0);
  });

  it('measures fewer pictures with full before a core is worked through, and numbers stay young', () => {
    const { fit, models, pictures } = play(automatic(), { fullWorkMs: steady(36), jitter: 0.1 }, 20);
    expect(models).toEqual(['full']);
    expect(fit.rateHz).toBeLessThan(30);
    expect(fit.speed?.workShare).toBeLessThan(FIT_LIMITS.hotShare);
    expect(fit.speed?.ageMs).toBeLessThanOrEqual(FIT_LIMITS.oldestAgeMs);
    expect(fit.verdict).toBe('good');
    expect(pictures.length / 20).toBeGreaterThan(14);
  });

  it('goes down to lite once where full is too late, and stays there', () => {
    const { fit, models } = play(automatic(), { fullWorkMs: steady(95), jitter: 0.2 }, 60);
    expect(models).toEqual(['full', 'lite']);
    expect(fit.hasFullFailed).toBe(true);
    expect(['good', 'late']).toContain(fit.verdict);
  });

  it('says that the machine is too slow when lite gives fewer than 8 a second', () => {
    const { fit, models } = play(automatic(), { fullWorkMs: steady(260) }, 40);
    expect(models).toEqual(['full', 'lite']);
    expect(fit.verdict).toBe('too-slow');
    expect(fit.rateHz).toBe(30);
  });

  it('changes nothing for one slow picture', () => {
    const { models, fit } = play(
      automatic(),
      { fullWorkMs: (time) => (Math.abs(time - 5) < 0.02 ? 900 : 25) },
      20,
    );
    expect(models).toEqual(['full']);
    expect(fit.verdict).toBe('good');
  });

  it('goes down when the machine gets slower, and never up again', () => {
    const { models } = play(automatic(), { fullWorkMs: (time) => (time < 15 ? 25 : 110) }, 60);
    expect(models).toEqual(['full', 'lite']);
    const comesAndGoes = (time: number): number => (Math.floor(time / 10) % 2 === 0 ? 25 : 110);
    expect(play(automatic(), { fullWorkMs: comesAndGoes }, 120).models).toEqual(['full', 'lite']);
  });

  it('answers heat with fewer pictures first', () => {
    // Throttled to two thirds of its clock over a minute.
    const heating = (time: number): number => 25 * (1 + Math.min(1, time / 60) / 2);
    const { models, rates, fit } = play(automatic(), { fullWorkMs: heating, jitter: 0.1 }, 90);
    expect(models).toEqual(['full']);
    expect(rates[0]).toBe(30);
    expect(fit.rateHz).toBeLessThan(30);
    expect(rates.length).toBeLessThanOrEqual(3);
    expect(fit.verdict).toBe('good');
  });

  it('goes up from the lite network of last time where full is promised with room, once', () => {
    const { models, fit } = play(beginFit('lite', false), { fullWorkMs: steady(30), jitter: 0.1 }, 30);
    expect(models).toEqual(['lite', 'full']);
    expect(fit.verdict).toBe('good');
    expect(play(beginFit('lite', false), { fullWorkMs: steady(90) }, 30).models).toEqual(['lite']);
  });

  it('never takes heavy by itself, and never changes what was chosen by hand', () => {
    expect(play(automatic(), { fullWorkMs: steady(3) }, 30).models).toEqual(['full']);
    const slow = play(beginFit('heavy', true), { fullWorkMs: steady(90) }, 30);
    expect(slow.models).toEqual(['heavy']);
    expect(slow.fit.verdict).toBe('too-slow');
  });

  it('changes no network once a set was begun', () => {
    const course = play(
      automatic(),
      { fullWorkMs: (time) => (time < 5 ? 25 : 130), mayChange: (time) => time < 5 },
      30,
    );
    expect(course.models).toEqual(['full']);
    expect(course.fit.verdict).not.toBe('good');
  });

  it('blames the camera, not the machine, where few pictures come', () => {
    const { fit, models } = play(automatic(), { fullWorkMs: steady(25), cameraHz: 7 }, 40);
    expect(models).toEqual(['full']);
    expect(fit.verdict).toBe('camera-slow');
  });

  it.each([
    ['one long pause', (time: number) => time > 8 && time < 30],
    ['a second of pictures now and then', (time: number) => time % 5 > 0.8],
  ])('does not hold pauses against the machine: %s', (_, isPaused) => {
    const { fit, models } = play(automatic(), { fullWorkMs: steady(25), isPaused }, 60);
    expect(models).toEqual(['full']);
    expect(fit.verdict).not.toMatch(/late|slow/);
  });

  it('works where latency and passed-over pictures are not told', () => {
    const untold = { waitMs: null, counts: false } as const;
    expect(play(automatic(), { fullWorkMs: steady(36), ...untold }, 30).fit.verdict).toBe('good');
    expect(play(automatic(), { fullWorkMs: steady(300), ...untold }, 40).fit.verdict).toBe('too-slow');
  });

  it('holds a quick camera at 30 a second', () => {
    const { fit, pictures } = play(automatic(), { fullWorkMs: steady(8), cameraHz: 60 }, 20);
    expect(stepSecondsOf(fit)).toBeCloseTo(1 / 30, 9);
    expect(pictures.filter(({ arrivedSeconds }) => arrivedSeconds > 10).length / 10).toBeCloseTo(30, 0);
  });

  it('starts to look afresh when another network computes, and keeps what is known', () => {
    const { fit } = play(automatic(), { fullWorkMs: steady(40) }, 10);
    const other = withNetwork(fit, 'heavy', true);
    expect(other).toMatchObject({
      model: 'heavy',
      verdict: 'checking',
      speed: null,
      window: [],
      sourceHz: fit.sourceHz,
    });
  });
});

describe('too slow during a set', () => {
  const at = (rateHz: number, seconds: number): PacedPicture[] =>
    Array.from({ length: rateHz * seconds }, (_, k) => ({
      arrivedSeconds: k / rateHz,
      timing: { workMs: 10, networkMs: null, latencyMs: null, dropped: null },
    }));

  it('is said once fewer than 8 a second came for two seconds', () => {
    expect(isTooSlowNow(at(6, 10), 0, 9.9)).toBe(true);
    expect(isTooSlowNow(at(9, 10), 0, 9.9)).toBe(false);
    expect(isTooSlowNow(at(6, 10), 8.5, 9.9)).toBe(false);
  });
});
