import { describe, expect, it } from 'vitest';
import { MemorySessionStore } from '../../../src/adapters/storage/memory-session-store.ts';
import type { PoseFrame } from '../../../src/core/pose/pose-frame.ts';
import type { FrameSeries } from '../../../src/core/session/quantised-frames.ts';
import { secondsAcross } from '../../../src/core/session/quantised-frames.ts';
import { SessionRecorder } from '../../../src/core/session/recorder.ts';
import type { SetPlace } from '../../../src/core/session/session-store.ts';
import type { StorageProblem, Stored } from '../../../src/core/stored.ts';
import { curlFilm, holdFilm, sampleHeader } from './sample-session.ts';

const BEGINNING = { startedAt: '2026-03-02T18:10:00.000+01:00', painBefore: 3 };

/** The store for the visit, which can be made to fail, and remembers which pieces came. */
class FailingStore extends MemorySessionStore {
  problem: StorageProblem | null = null;
  attempts = 0;
  readonly pieces: FrameSeries[] = [];

  override async appendFrames(place: SetPlace, index: number, piece: FrameSeries): Promise<Stored<null>> {
    this.attempts += 1;
    if (this.problem !== null) return { ok: false, problem: this.problem, detail: 'made to fail' };
    this.pieces.push(piece);
    return super.appendFrames(place, index, piece);
  }
}

interface Rig {
  readonly store: FailingStore;
  readonly recorder: SessionRecorder;
  readonly problems: (StorageProblem | null)[];
  readonly clock: { seconds: number };
  /** Lets the clock run with the frames, and everything that waits happen. */
  play(frames: readonly PoseFrame[]): Promise<void>;
}

function rig(exercise: 'hold' | 'free-curl' = 'free-curl'): Rig {
  const store = new FailingStore();
  const problems: (StorageProblem | null)[] = [];
  const clock = { seconds: 100 };
  const recorder = new SessionRecorder({
    store,
    header: sampleHeader(exercise),
    nowSeconds: () => clock.seconds,
    onProblem: (problem) => problems.push(problem),
  });
  return {
    store,
    problems,
    clock,
    recorder,
    async play(frames) {
      const zero = clock.seconds - (frames[0]?.timeSeconds ?? 0);
      for (const frame of frames) {
        clock.seconds = zero + frame.timeSeconds;
        recorder.addFrame(frame);
        await settled();
      }
    },
  };
}

/** Lets promises that are ready run. */
function settled(): Promise<void> {
  return new Promise((resolve) => setImmediate(resolve));
}

const keptId = sampleHeader().id;

describe('recording', () => {
  it('writes at least every second of the clip', async () => {
    const { recorder, store, play } = rig();
    recorder.beginSet(BEGINNING);
    let longestUnsaved = 0;
    for (const frame of curlFilm(5)) {
      await play([frame]);
      longestUnsaved = Math.max(longestUnsaved, recorder.unsavedSeconds);
    }
    expect(store.pieces.length).toBeGreaterThanOrEqual(5);
    expect(Math.max(...store.pieces.map((piece) => secondsAcross([piece])))).toBeLessThan(1);
    expect(longestUnsaved).toBeLessThan(1);
  });

  it('writes at least every second of the clock when pictures come slower than they are counted', async () => {
    const { clock, recorder, store } = rig();
    recorder.beginSet(BEGINNING);
    for (const frame of curlFilm(0.4)) {
      recorder.addFrame(frame);
      clock.seconds += 0.3;
      await settled();
    }
    expect(store.pieces.length).toBeGreaterThanOrEqual(4);
  });

  it('writes what waits when the source stalls', async () => {
    const { clock, recorder, store, play } = rig();
    recorder.beginSet(BEGINNING);
    await play(curlFilm(0.2));
    expect(store.pieces).toHaveLength(0);
    clock.seconds += 0.5;
    recorder.tick();
    await settled();
    expect(store.pieces).toHaveLength(1);
    expect(recorder.unsavedSeconds).toBe(0);
  });

  it('writes at once when it is told to, as when the page is hidden', async () => {
    const { recorder, store, play } = rig();
    recorder.beginSet(BEGINNING);
    await play(curlFilm(0.2));
    await recorder.flush();
    expect(store.pieces).toHaveLength(1);
  });

  it('keeps the same record as it holds in memory', async () => {
    const { recorder, store, play } = rig('hold');
    recorder.beginSet(BEGINNING);
    await play(holdFilm(6));
    const findings = await recorder.finishSet();
    expect(findings.judgement.holds).toHaveLength(1);
    recorder.answerSet(0, { effortAfterHolds: [7] });
    recorder.answerSet(0, { painAfter: 4 });
    recorder.beginSet({ ...BEGINNING, startedAt: '2026-03-02T18:12:00.000+01:00' });
    await play(holdFilm(4, 90, 8));
    await recorder.finish();
    const kept = await store.loadSession(keptId);
    if (!kept.ok) throw new Error(kept.detail);
    expect(kept.value).toEqual(await recorder.record());
    expect(kept.value.sets.map(({ answers }) => answers)).toEqual([
      { painBefore: 3, painAfter: 4, effortAfterHolds: [7], effort: null, hardest: null },
      { painBefore: 3, painAfter: null, effortAfterHolds: [null], effort: null, hardest: null },
    ]);
    expect(kept.value.sets.map(({ cutOff }) => cutOff)).toEqual([false, false]);
  });

  it('leaves out frames between sets and frames whose time does not rise', async () => {
    const { recorder, play } = rig();
    const [first, second, third] = curlFilm(1);
    if (first === undefined || second === undefined || third === undefined) throw new Error('no frames');
    await play([first]);
    recorder.beginSet(BEGINNING);
    await play([first, second]);
    recorder.addFrame(second);
    recorder.addFrame(first);
    recorder.addFrame({ ...third, timeSeconds: second.timeSeconds + 0.00004 });
    recorder.addFrame(third);
    await recorder.finishSet();
    recorder.addFrame({ ...third, timeSeconds: 9 });
    expect((await recorder.record()).sets[0]?.frames.frameCount).toBe(3);
  });

  it('keeps cues and pauses with their set, and counts a pause neither as measured nor as missing', async () => {
    const { recorder, store, play } = rig('hold');
    const cue = (timeSeconds: number, name: 'in-range' | 'rest') =>
      ({
        timeSeconds,
        cue: name,
        words: name === 'rest' ? 'Rest, 60 s' : 'In range',
        by: 'tone',
        why: { what: 'held', repetition: null, measured: { value: 1, unit: 's' } },
      }) as const;
    recorder.noteCue(cue(0, 'in-range'));
    recorder.beginSet(BEGINNING);
    const film = holdFilm(6);
    await play(film.filter(({ timeSeconds }) => timeSeconds < 2));
    recorder.noteCue(cue(1.5, 'in-range'));
    await play(film.filter(({ timeSeconds }) => timeSeconds > 4));
    const [from = 0, to = 0] = [
      film.findLast(({ timeSeconds }) => timeSeconds < 2)?.timeSeconds,
      film.find(({ timeSeconds }) => timeSeconds > 4)?.timeSeconds,
    ];
    recorder.notePause({ startSeconds: from, endSeconds: to });
    await recorder.finishSet();
    recorder.noteCue(cue(7, 'rest'));
    await recorder.finish();
    const loaded = await store.loadSession(sampleHeader().id);
    if (!loaded.ok) throw new Error(loaded.detail);
    const [set] = loaded.value.sets;
    expect(set?.cues.map(({ words }) => words)).toEqual(['In range', 'Rest, 60 s']);
    expect(set?.pauses).toEqual([{ startSeconds: from, endSeconds: to }]);
    expect(set?.measuredTime.totalSeconds).toBeLessThan(4.1);
    expect(set?.measuredTime.notMeasuredSeconds.gap ?? 0).toBeLessThan(0.01);
    expect(await recorder.record()).toEqual(loaded.value);
  });

  it('refuses a header that no record may have', () => {
    const parts = { store: new FailingStore(), nowSeconds: () => 0 };
    expect(
      () => new SessionRecorder({ ...parts, header: { ...sampleHeader(), createdAt: 'today' } }),
    ).toThrow();
  });

  it('refuses to begin a set within a set, and to end none', async () => {
    const { recorder } = rig();
    await expect(recorder.finishSet()).rejects.toThrow('no set is open');
    recorder.beginSet(BEGINNING);
    expect(() => {
      recorder.beginSet(BEGINNING);
    }).toThrow('end the open set first');
    expect(() => {
      recorder.answerSet(0, { painAfter: 1 });
    }).toThrow('set 0 has not ended');
  });
});

describe('a store that fails while recording', () => {
  it('loses nothing: the record in memory is whole', async () => {
    const { recorder, store, play } = rig();
    recorder.beginSet(BEGINNING);
    await play(curlFilm(2));
    store.problem = 'full';
    await play(curlFilm(6).filter(({ timeSeconds }) => timeSeconds > 2));
    await recorder.finishSet();
    await recorder.finish();
    expect(recorder.problem).toBe('full');
    expect(recorder.unsavedSeconds).toBeGreaterThan(3);
    expect((await recorder.record()).sets[0]?.frames.frameCount).toBe(curlFilm(6).length - 1);
  });

  it('is tried again, in order, and says when it is well', async () => {
    const { clock, problems, recorder, store, play } = rig();
    recorder.beginSet(BEGINNING);
    store.problem = 'full';
    await play(curlFilm(3));
    expect(recorder.problem).toBe('full');
    const attempts = store.attempts;
    expect(attempts).toBeLessThan(12);
    store.problem = null;
    clock.seconds += 1;
    recorder.tick();
    await settled();
    await recorder.flush();
    expect(problems).toEqual(['full', null]);
    expect(recorder.unsavedSeconds).toBe(0);
    await recorder.finish();
    const kept = await store.loadSession(keptId);
    expect(kept).toEqual({ ok: true, value: await recorder.record() });
  });
});
