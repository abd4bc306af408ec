import { describe, expect, it } from 'vitest';
import { isToBeMeasured } from '../../../src/core/pose/picture-rate.ts';
import { type ClipSegment, earliestOf, segmentOf, SegmentPlan } from '../../../src/core/pose/segment-plan.ts';
import { seededRandom } from '../../helpers/seeded-random.ts';

/** Works a plan off with workers that take so long for a segment; what each was given, in order. */
function workOff(plan: SegmentPlan, secondsEach: readonly number[]): ClipSegment[][] {
  const given: ClipSegment[][] = secondsEach.map(() => []);
  const freeAt = secondsEach.map(() => 0);
  for (;;) {
    const worker = freeAt.indexOf(Math.min(...freeAt));
    const next = plan.next(worker);
    if (next === null) return given;
    given[worker]?.push(next);
    freeAt[worker] = (freeAt[worker] ?? 0) + (secondsEach[worker] ?? 1);
  }
}

const keys = (given: readonly ClipSegment[]) =>
  given.map(({ clip, segment }) => `${String(clip)}/${String(segment)}`);
const jumps = (given: readonly ClipSegment[]) =>
  given.filter(({ clip, segment }, index) => {
    const before = given[index - 1];
    return before === undefined || before.clip !== clip || before.segment + 1 !== segment;
  }).length;

describe('which segment a picture belongs to', () => {
  it('goes by its own time, with half a millisecond of tolerance', () => {
    expect([0, 4.999, 4.9996, 5, 9.99, 10].map((time) => segmentOf(time, null))).toEqual([0, 0, 1, 1, 1, 2]);
    expect(segmentOf(-0.2, null)).toBe(0);
  });

  it('cuts no bin of the rate, so that no bin is measured twice', () => {
    const times = Array.from({ length: 6000 }, (_, index) => index / 240);
    for (const rateHz of [15, 7.3, 10 / 3, 0.1, 29.97]) {
      let last: number | null = null;
      let whole = 0;
      for (const time of times)
        if (isToBeMeasured(time, last, rateHz)) {
          last = time;
          whole += 1;
        }
      const lastOf = new Map<number, number>();
      let apart = 0;
      for (const time of times) {
        const segment = segmentOf(time, rateHz);
        if (!isToBeMeasured(time, lastOf.get(segment) ?? null, rateHz)) continue;
        lastOf.set(segment, time);
        apart += 1;
      }
      expect(apart, `${String(rateHz)} Hz`).toBe(whole);
    }
  });

  it('is never earlier than it says', () => {
    const times = Array.from({ length: 20_000 }, (_, index) => index / 1000);
    for (const rateHz of [null, 15, 7.3, 24])
      expect(times.filter((time) => time < earliestOf(segmentOf(time, rateHz)))).toEqual([]);
  });
});

describe('who measures which segment', () => {
  it('gives every segment exactly once, whatever the speed and number of the workers', () => {
    const random = seededRandom(7);
    for (let round = 0; round < 300; round += 1) {
      const plan = new SegmentPlan();
      const counts = Array.from(
        { length: 1 + Math.floor(random() * 4) },
        () => 1 + Math.floor(random() * 30),
      );
      counts.forEach((count, clip) => plan.add(clip, count));
      const given = workOff(
        plan,
        Array.from({ length: 1 + Math.floor(random() * 8) }, () => 0.1 + random()),
      );
      const wanted = counts.flatMap((count, clip) =>
        Array.from({ length: count }, (_, segment) => `${String(clip)}/${String(segment)}`),
      );
      expect(keys(given.flat()).toSorted()).toEqual(wanted.toSorted());
      expect(plan.hasWaiting).toBe(false);
    }
  });

  it('leaves one worker alone with a clip from start to end', () => {
    const plan = new SegmentPlan();
    plan.add(1, 12);
    const [given = []] = workOff(plan, [1]);
    expect(given.map(({ segment }) => segment)).toEqual(Array.from({ length: 12 }, (_, index) => index));
  });

  it('has equally quick workers share a clip evenly, and each jumps seldom', () => {
    for (const workers of [2, 3, 4, 8]) {
      const plan = new SegmentPlan();
      plan.add(1, 48);
      const given = workOff(plan, new Array<number>(workers).fill(1));
      for (const own of given) expect(own.length).toBeLessThanOrEqual(Math.ceil(48 / workers) + 1);
      for (const own of given) expect(jumps(own)).toBeLessThanOrEqual(4);
    }
  });

  it('begins a clip that nobody has begun before it helps with another', () => {
    const plan = new SegmentPlan();
    plan.add(1, 10);
    plan.add(2, 2);
    expect(plan.next(1)).toEqual({ clip: 1, segment: 0 });
    expect(plan.next(2)).toEqual({ clip: 2, segment: 0 });
    expect(plan.next(2)).toEqual({ clip: 2, segment: 1 });
    // Then it takes the second half of what is left: 1 to 9.
    expect(plan.next(2)).toEqual({ clip: 1, segment: 5 });
    expect(plan.next(1)).toEqual({ clip: 1, segment: 1 });
  });

  it('has the robbed one stop where its stretch now ends', () => {
    const plan = new SegmentPlan();
    plan.add(1, 5);
    plan.next(1);
    expect(plan.next(2)).toEqual({ clip: 1, segment: 3 });
    expect([plan.next(1), plan.next(1)].map((given) => given?.segment)).toEqual([1, 2]);
    // What is left is the thief's last one.
    expect(plan.next(1)).toEqual({ clip: 1, segment: 4 });
    expect(plan.next(2)).toBeNull();
  });

  it('gives what a worker that is gone did not finish to the next who asks, first of all', () => {
    const plan = new SegmentPlan();
    plan.add(1, 6);
    plan.add(2, 6);
    const lost = plan.next(1);
    plan.next(2);
    plan.release(1, lost);
    expect(plan.next(3)).toEqual({ clip: 1, segment: 0 });
    expect(plan.next(3)).toEqual({ clip: 1, segment: 1 });
    // Also when it was the last of its stretch.
    const last = new SegmentPlan();
    last.add(1, 1);
    last.release(1, last.next(1));
    expect(last.next(2)).toEqual({ clip: 1, segment: 0 });
    expect(last.next(2)).toBeNull();
  });

  it('forgets a clip that nobody wants any more', () => {
    const plan = new SegmentPlan();
    plan.add(1, 6);
    plan.add(2, 1);
    plan.next(1);
    plan.remove(1);
    expect(plan.next(1)).toEqual({ clip: 2, segment: 0 });
    expect(plan.next(1)).toBeNull();
  });
});
