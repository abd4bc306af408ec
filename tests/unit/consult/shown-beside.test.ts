import { describe, expect, it } from 'vitest';
import { addEntry, courseLines, emptyCourse } from '../../../src/core/consult/course.ts';
import { CONSULT_LIMITS } from '../../../src/core/consult/limits.ts';
import type { EntryContent } from '../../../src/core/consult/messages.ts';
import { readRecordMessage } from '../../../src/core/consult/read-message.ts';
import {
  figureOfShown,
  frameAt,
  partsOf,
  roomOf,
  seenAgain,
  stillsOf,
  type SeenPicture,
} from '../../../src/core/consult/seen-parts.ts';
import { MOST_SHOWN_FRAMES } from '../../../src/core/consult/showing-entries.ts';
import { endedSets, shownBeside } from '../../../src/core/consult/shown-beside.ts';
import { DEFAULT_THRESHOLDS } from '../../../src/core/exercises/thresholds.ts';
import { contentWords } from '../../../src/core/feedback/consult-words.ts';

const joint = (x: number, y: number) => ({ x, y, certainty: 'measured' }) as const;

/** An arm that bends from 0 to 120 deg and back in eight seconds, fifteen pictures a second, again and again. */
const SEEN: readonly SeenPicture[] = Array.from({ length: 900 }, (_, index) => {
  const timeSeconds = 100 + index / 15;
  const value = 60 - 60 * Math.cos((2 * Math.PI * (timeSeconds - 100)) / 8);
  return {
    timeSeconds,
    elbowFlexionDeg: { value, low: value - 5, high: value + 5 },
    joints: { shoulder: joint(300.4, 100), elbow: joint(310, 165.6), wrist: joint(1234, 1_000), hip: null },
  };
});

const linesOf = (...contents: readonly EntryContent[]) =>
  courseLines(
    contents.reduce(
      (course, content) =>
        addEntry(course, content, { madeMs: 0, at: '2026-03-02T18:05:09.250+01:00' }) ?? course,
      emptyCourse('therapist'),
    ),
  );

const DEMONSTRATION: EntryContent = {
  what: 'demonstration-shown',
  exercise: 'hold',
  side: 'right',
  variant: null,
};
const PRESCRIPTION: EntryContent = {
  what: 'prescription',
  prescription: {
    exercise: 'hold',
    side: 'right',
    variant: null,
    thresholds: DEFAULT_THRESHOLDS,
    dose: null,
  },
};
const ended = (setNumber: number, parts: number): EntryContent => ({
  what: 'set-ended',
  setNumber,
  inRangeSeconds: 0,
  repetitions: parts,
  partialRepetitions: 0,
  loweringSeconds: null,
  parts,
});
const again = (count: number): EntryContent => ({
  what: 'repetition-shown',
  setNumber: 1,
  part: 2,
  widthPx: 1280,
  heightPx: 720,
  frames: seenAgain(SEEN, { startSeconds: 108, endSeconds: 108 + count }),
});

describe('a repetition that is shown again', () => {
  const frames = seenAgain(SEEN, { startSeconds: 108, endSeconds: 116 });

  it('is the one that was meant, with a little around it, from the beginning on', () => {
    expect(frames[0]?.at).toBe(0);
    // Fifteen pictures a second: both ends are within one of them.
    expect(Math.abs((frames.at(-1)?.at ?? 0) - 9)).toBeLessThanOrEqual(2 / 15);
    expect(Math.max(...frames.map(({ flexionDeg }) => flexionDeg ?? 0))).toBeCloseTo(120, 0);
  });

  it('fits into a message however long it is, and is read on the other side as it was sent', () => {
    const content = again(55);
    expect(content.what === 'repetition-shown' && content.frames).toHaveLength(MOST_SHOWN_FRAMES);
    const at = '2026-03-02T18:05:09.250+01:00';
    const text = JSON.stringify({ kind: 'entry', number: 1, seen: 0, madeMs: 1, at, content });
    expect(text.length).toBeLessThan(CONSULT_LIMITS.messageCharacters);
    expect(readRecordMessage(text)).toMatchObject({ ok: true, value: { content } });
  });

  it('stands at each moment as it was then, and at its end after it', () => {
    const middle = frameAt(frames, 4.5);
    expect(4.5 - (middle?.at ?? 0)).toBeLessThan(0.2);
    expect(middle?.flexionDeg).toBeCloseTo(120, 0);
    expect(frameAt(frames, 99)).toBe(frames.at(-1));
    const [first] = frames;
    expect(first && figureOfShown(first)).toMatchObject({
      shoulder: { x: 300, y: 100 },
      elbow: { x: 310, y: 166 },
      hip: null,
    });
  });

  it('takes the room in which it moves, with a margin', () => {
    const [first] = frames;
    const moved = first && [
      { ...first, wrist: [400, 100] as [number, number], shoulder: [200, 100] as [number, number] },
    ];
    expect(roomOf(moved ?? [], { widthPx: 1280, heightPx: 720 })).toMatchObject({ x: 170, width: 260 });
    expect(roomOf([], { widthPx: 1280, heightPx: 720 })).toEqual({ x: 0, y: 0, width: 1280, height: 720 });
  });

  it('is told by three stills where nothing may move', () => {
    const [first, most, last] = stillsOf(frames);
    expect([first, last]).toEqual([frames[0], frames.at(-1)]);
    expect(most?.flexionDeg).toBeGreaterThan(119);
    expect(stillsOf([])).toEqual([]);
  });

  it('is one of the holds and repetitions of its set, in order of time', () => {
    expect(partsOf({ holds: [], repetitions: [] })).toEqual([]);
  });
});

describe('what both are shown', () => {
  it('is what was shown last, until it is ended', () => {
    expect(shownBeside(linesOf(DEMONSTRATION))).toEqual(DEMONSTRATION);
    expect(shownBeside(linesOf(DEMONSTRATION, again(8)))).toEqual(again(8));
    expect(shownBeside(linesOf(DEMONSTRATION, { what: 'showing-ended' }))).toBeNull();
  });

  it('never stands before a set, nor beside another exercise', () => {
    for (const next of [
      { what: 'set-asked', action: 'start', name: null },
      { what: 'set-begun', setNumber: 1 },
      PRESCRIPTION,
    ] as const)
      expect(shownBeside(linesOf(DEMONSTRATION, next))).toBeNull();
  });

  it('stays where what was asked for is not there, and says so', () => {
    const missing = { ...again(8), frames: [] } as EntryContent;
    expect(shownBeside(linesOf(DEMONSTRATION, missing))).toEqual(DEMONSTRATION);
    expect(contentWords(missing)).toContain('Not there');
  });

  it('offers the sets of the exercise that is asked for now only', () => {
    expect(endedSets(linesOf(ended(1, 8), ended(2, 0)))).toEqual([
      { setNumber: 1, parts: 8 },
      { setNumber: 2, parts: 0 },
    ]);
    expect(endedSets(linesOf(ended(1, 8), PRESCRIPTION))).toEqual([]);
  });
});
