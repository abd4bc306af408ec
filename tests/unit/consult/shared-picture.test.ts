import { describe, expect, it } from 'vitest';
import {
  addEntry,
  courseLines,
  emptyCourse,
  takeEntry,
  type Course,
} from '../../../src/core/consult/course.ts';
import { CONSULT_LIMITS } from '../../../src/core/consult/limits.ts';
import type { EntryContent } from '../../../src/core/consult/messages.ts';
import { MOST_LINE_POINTS, type SharedShape } from '../../../src/core/consult/picture-entries.ts';
import { readRecordMessage } from '../../../src/core/consult/read-message.ts';
import { sharedPicture } from '../../../src/core/consult/shared-picture.ts';
import { thinned } from '../../../src/core/consult/thinned.ts';
import { drawingWords } from '../../../src/core/feedback/drawing-words.ts';

const joint = (x: number, y: number) => ({ x, y, certainty: 'measured' }) as const;
const PICTURE = {
  widthPx: 640,
  heightPx: 480,
  joints: { shoulder: joint(300, 100), elbow: joint(310, 165), wrist: joint(370, 160), hip: null },
};
const frozen = (pictureId: number): EntryContent => ({
  what: 'picture-frozen',
  pictureId,
  capturedMs: 1000 * pictureId,
  ...PICTURE,
});
const ARROW: SharedShape = { kind: 'arrow', from: { x: 40, y: 50 }, to: { x: 312, y: 160 } };
const drawn = (pictureId: number): EntryContent => ({
  what: 'picture-drawn',
  pictureId,
  shape: ARROW,
  words: 'Arrow to the elbow',
});

/** The therapist's course, and the patient's who has it all. */
function courses(contents: readonly EntryContent[]): { readonly own: Course; readonly there: Course } {
  let own = emptyCourse('therapist');
  let there = emptyCourse('patient');
  for (const content of contents) {
    own = addEntry(own, content, { madeMs: 1, at: '2026-03-02T18:05:09.250+01:00' }) ?? own;
    const last = own.own.at(-1);
    const taken = last === undefined ? null : takeEntry(there, last);
    if (taken?.ok === true) there = taken.value;
  }
  return { own, there };
}

const shared = (contents: readonly EntryContent[]) => sharedPicture(courseLines(courses(contents).own));

describe('the picture that both sides look at', () => {
  it('is held still, drawn on, cleared and let go, the same on both sides', () => {
    const { own, there } = courses([frozen(1), drawn(1), { what: 'joint-watched', joint: 'elbow' }]);
    const here = sharedPicture(courseLines(own));
    expect(sharedPicture(courseLines(there))).toEqual(here);
    expect(here).toMatchObject({
      joint: 'elbow',
      lastId: 1,
      frozen: { pictureId: 1, capturedMs: 1000, drawings: [{ shape: ARROW, words: 'Arrow to the elbow' }] },
    });
    expect(shared([frozen(1), drawn(1), { what: 'picture-cleared', pictureId: 1 }]).frozen?.drawings).toEqual(
      [],
    );
    expect(shared([frozen(1), { what: 'picture-let-go', pictureId: 1 }]).frozen).toBeNull();
  });

  it('takes no drawing, clearing or letting go of another picture', () => {
    const before = shared([frozen(1), frozen(2), drawn(2)]);
    expect(shared([frozen(1), drawn(1), frozen(2), drawn(2), drawn(1)])).toEqual(before);
    expect(shared([frozen(1), frozen(2), drawn(2), { what: 'picture-cleared', pictureId: 1 }])).toEqual(
      before,
    );
    expect(shared([frozen(1), frozen(2), drawn(2), { what: 'picture-let-go', pictureId: 1 }])).toEqual(
      before,
    );
    expect(shared([drawn(1)]).frozen).toBeNull();
  });

  it('begins each picture without the drawings of the one before', () => {
    expect(shared([frozen(1), drawn(1), frozen(2)]).frozen).toMatchObject({ pictureId: 2, drawings: [] });
  });
});

describe('a line', () => {
  const long = Array.from({ length: 5000 }, (_, index) => ({ x: index / 7, y: Math.sqrt(index) }));

  it('is thinned to what a message has room for, its ends kept', () => {
    const points = thinned(long, MOST_LINE_POINTS);
    expect(points).toHaveLength(MOST_LINE_POINTS);
    expect([points[0], points.at(-1)]).toEqual([long[0], long.at(-1)]);
    expect(thinned(long.slice(0, 3), MOST_LINE_POINTS)).toEqual(long.slice(0, 3));
  });

  it('fits into a message when it is thinned, and is refused when it is not', () => {
    const read = (points: readonly { x: number; y: number }[]) => {
      const content = {
        what: 'picture-drawn',
        pictureId: 1,
        words: 'Line',
        shape: { kind: 'stroke', points },
      };
      const base = { kind: 'entry', number: 1, seen: 0, madeMs: 1, at: '2026-03-02T18:05:09.250+01:00' };
      return readRecordMessage(JSON.stringify({ ...base, content }));
    };
    expect(read(thinned(long, MOST_LINE_POINTS)).ok).toBe(true);
    expect(read(long).ok).toBe(false);
    expect(read(long.slice(0, MOST_LINE_POINTS + 1)).ok).toBe(false);
    expect(JSON.stringify(thinned(long, MOST_LINE_POINTS)).length).toBeLessThan(
      CONSULT_LIMITS.messageCharacters,
    );
  });
});

describe('a drawing in words', () => {
  it.each<[SharedShape, string]>([
    [ARROW, 'Arrow to the elbow'],
    [{ kind: 'marker', at: { x: 372, y: 150 } }, 'Mark at the wrist'],
    [{ kind: 'marker', at: { x: 20, y: 460 } }, 'Mark at the bottom left of the picture'],
    [{ kind: 'marker', at: { x: 320, y: 240 } }, 'Mark at the middle of the picture'],
    [
      {
        kind: 'stroke',
        points: [
          { x: 300, y: 95 },
          { x: 600, y: 240 },
        ],
      },
      'Line from the shoulder to the middle right of the picture',
    ],
  ])('says what it points at', (shape, words) => {
    expect(drawingWords(shape, PICTURE)).toBe(words);
  });
});
