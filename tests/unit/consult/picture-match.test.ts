import { describe, expect, it } from 'vitest';
import { MATCH_LIMITS } from '../../../src/core/consult/match-limits.ts';
import { PictureMatch, type MeasuredPicture } from '../../../src/core/consult/picture-match.ts';
import { RtpClock } from '../../../src/core/consult/rtp-clock.ts';

/** A camera and its line, made up: every picture has its time of the camera's clock, of the sender's page and of RTP. */
interface Line {
  /** Times of the pictures, milliseconds from the first. */
  readonly timesMs: readonly number[];
  readonly rtpStart: number;
  /** What the browser says of the capture is off by this, milliseconds. */
  readonly captureErrorMs?: (index: number) => number;
  /** RTP's clock runs so much faster, parts per million. */
  readonly driftPpm?: number;
  readonly isMeasured?: (index: number) => boolean;
  readonly isShown?: (index: number) => boolean;
  /** Figures come so many pictures before their picture is shown; less than nothing: after it. */
  readonly lead?: number;
}

const CAMERA_ZERO_MS = 67_906_678;
const PAGE_ZERO_MS = 5_000;

function measuredAt(timeMs: number, index: number): MeasuredPicture {
  const joint = { x: index, y: 2 * index, certainty: 'measured' } as const;
  return {
    timeSeconds: (CAMERA_ZERO_MS + timeMs) / 1000,
    capturedMs: PAGE_ZERO_MS + timeMs,
    widthPx: 640,
    heightPx: 480,
    joints: { shoulder: joint, elbow: joint, wrist: joint, hip: null },
  };
}

/** Which picture's figure is drawn on each shown picture: its index, a part between two, or what else was found. */
function drawn(line: Line): { index: number; found: number | string }[] {
  const { timesMs, rtpStart, captureErrorMs, driftPpm = 0, isMeasured, isShown, lead = 5 } = line;
  const match = new PictureMatch();
  const results: { index: number; found: number | string }[] = [];
  for (let step = 0; step < timesMs.length + Math.max(lead, 0); step += 1) {
    const [measured, shown] = [step - Math.max(-lead, 0), step - Math.max(lead, 0)];
    const measuredMs = timesMs[measured];
    if (measuredMs !== undefined && (isMeasured?.(measured) ?? true))
      match.take(measuredAt(measuredMs, measured));
    const shownMs = timesMs[shown];
    if (shownMs === undefined || !(isShown?.(shown) ?? true)) continue;
    const rtpMs = Math.round(shownMs * (1 + driftPpm / 1e6));
    const found = match.show({
      rtpTimestamp: (rtpStart + rtpMs * 90) % 2 ** 32,
      capturedMs: PAGE_ZERO_MS + shownMs + (captureErrorMs?.(shown) ?? 0),
    });
    results.push({
      index: shown,
      found: found.kind === 'figure' ? (found.joints.elbow?.x ?? Number.NaN) : found.kind,
    });
  }
  return results;
}

const steady = (count: number, hz = 30): number[] =>
  Array.from({ length: count }, (_, index) => (index * 1000) / hz);

/** Pictures of a camera whose times tremble, as seen of cheap ones; the same each time. */
function trembling(count: number): number[] {
  let state = 7;
  return steady(count).map((timeMs) => {
    state = (state * 16_807) % 2_147_483_647;
    return timeMs + (state % 21) - 10;
  });
}

/** Errors in pictures once the clocks are known; everything else that was found is counted. */
function errorsOf(results: ReturnType<typeof drawn>): { worst: number; others: number; known: number } {
  const known = results.slice(MATCH_LIMITS.leastClockPictures);
  const figures = known.flatMap(({ index, found }) =>
    typeof found === 'number' ? [Math.abs(found - index)] : [],
  );
  return { worst: Math.max(...figures), others: known.length - figures.length, known: figures.length };
}

describe('the figure of a received picture', () => {
  it('is that of the same picture, whatever the zeros of the clocks', () => {
    const { worst, others, known } = errorsOf(drawn({ timesMs: steady(300), rtpStart: 2_438_904_604 }));
    expect({ worst, others }).toEqual({ worst: 0, others: 0 });
    expect(known).toBeGreaterThan(280);
  });

  it('is not guessed before the clocks are known, nor without any word of the capture', () => {
    const match = new PictureMatch();
    match.take(measuredAt(0, 0));
    expect(match.show({ rtpTimestamp: 90, capturedMs: null })).toEqual({ kind: 'unknown' });
    const first = drawn({ timesMs: steady(MATCH_LIMITS.leastClockPictures), rtpStart: 0 });
    expect(first.slice(0, -1).every(({ found }) => found === 'unknown')).toBe(true);
  });

  it('stays right over the wrap of the RTP clock', () => {
    // The wrap comes after 150 of the pictures.
    const rtpStart = 2 ** 32 - 5000 * 90;
    expect(errorsOf(drawn({ timesMs: steady(300), rtpStart })).worst).toBe(0);
  });

  it('stays right when what is said of the capture trembles by half a picture', () => {
    const captureErrorMs = (index: number): number => ((index * 37) % 33) - 16;
    expect(errorsOf(drawn({ timesMs: steady(300), rtpStart: 7, captureErrorMs })).worst).toBe(0);
  });

  it('is found by the trembling of the camera where the capture is wrong by more than a picture', () => {
    const captureErrorMs = (): number => 45;
    expect(errorsOf(drawn({ timesMs: trembling(300), rtpStart: 7, captureErrorMs })).worst).toBe(0);
    // A camera that ticks like a clock gives no hold: then it is off by that picture, and no more.
    expect(errorsOf(drawn({ timesMs: steady(300), rtpStart: 7, captureErrorMs })).worst).toBe(1);
  });

  it('stays right with pictures dropped on the way and pictures not measured, drawn between two where need be', () => {
    const results = drawn({
      timesMs: trembling(400),
      rtpStart: 7,
      isMeasured: (index) => index % 3 === 0,
      isShown: (index) => index % 7 !== 2 && !(index > 200 && index < 230),
    });
    const { worst, others } = errorsOf(results);
    // Between two measured pictures the time is not quite the index: the camera trembles.
    expect(worst).toBeLessThan(0.8);
    expect(results.some(({ index, found }) => index % 3 !== 0 && typeof found === 'number')).toBe(true);
    expect(others).toBe(0);
  });

  it('follows a drift between the two clocks', () => {
    // 200 ppm over four minutes is 48 ms: more than a picture.
    expect(errorsOf(drawn({ timesMs: trembling(7200), rtpStart: 7, driftPpm: 200 })).worst).toBe(0);
  });

  it('is missing where nothing was measured near it, and where the figure is still on its way', () => {
    const isMeasured = (index: number): boolean => index < 100 || index > 130;
    const results = drawn({ timesMs: steady(200), rtpStart: 7, isMeasured });
    expect(
      results.filter(({ index }) => index > 101 && index < 130).every((one) => one.found === 'missing'),
    ).toBe(true);
    const late = drawn({ timesMs: steady(200), rtpStart: 7, lead: -4 });
    expect(late.slice(20).every(({ found }) => found === 'missing')).toBe(true);
  });

  it('begins anew with another camera', () => {
    const match = new PictureMatch();
    const feed = (zeroMs: number): void => {
      for (const [index, timeMs] of steady(60).entries()) {
        match.take({ ...measuredAt(timeMs, index), timeSeconds: (zeroMs + timeMs) / 1000 });
        match.show({ rtpTimestamp: (zeroMs % 1000) + timeMs * 90, capturedMs: PAGE_ZERO_MS + timeMs });
      }
    };
    feed(0);
    expect(match.aheadMs).not.toBeNull();
    match.take(measuredAt(0, 0));
    expect(match.aheadMs).toBeNull();
  });
});

describe('the hold of the picture', () => {
  const fed = (lead: number): number => {
    const match = new PictureMatch();
    for (const [index, timeMs] of steady(120).entries()) {
      const measuredMs = timeMs + (lead * 1000) / 30;
      if (measuredMs >= 0) match.take(measuredAt(measuredMs, index + lead));
      match.show({ rtpTimestamp: Math.round(timeMs) * 90, capturedMs: PAGE_ZERO_MS + timeMs });
    }
    return match.moreHoldMs();
  };

  it('grows by what the figures are late, shrinks slowly, and rests where all is well', () => {
    expect(fed(-4)).toBeGreaterThanOrEqual((4 * 1000) / 30);
    expect(fed(-4)).toBeLessThan((6 * 1000) / 30);
    expect(fed(2)).toBe(0);
    expect(fed(12)).toBe(-MATCH_LIMITS.holdStepMs);
  });
});

describe('the RTP clock', () => {
  it('goes on over the wrap, and back for what comes out of order', () => {
    const clock = new RtpClock();
    expect(clock.ms(2 ** 32 - 90)).toBe(0);
    expect(clock.ms(90)).toBe(2);
    expect(clock.ms(2 ** 32 - 45)).toBe(0.5);
    expect(clock.ms(180)).toBe(3);
  });
});
