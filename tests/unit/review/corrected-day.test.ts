import { describe, expect, it } from 'vitest';
import { OPEN_SET, withSet } from '../../../src/core/plan/day-course.ts';
import { beginDay } from '../../../src/core/plan/day-turns.ts';
import { correctedDay } from '../../../src/core/review/corrected-day.ts';
import { correctedSession } from '../../../src/core/review/corrected-session.ts';
import { measuredDoneOf } from '../../../src/core/session/day-figures.ts';
import { inventedPlan } from '../../helpers/plan-days.ts';
import { correction, outline, refTo, review } from './sample-review.ts';

const [set] = outline.sets;
if (set === undefined) throw new Error('The sample has no set.');
const impulse = { value: 60, least: 50, most: 70 };
const measured = measuredDoneOf(set, 'repetitions', impulse);
const day = withSet(
  beginDay(inventedPlan(), 'c4a9e6d2-58b1-4f37-9d0e-71b3f2a8c590', '2026-03-02T18:00:00+01:00'),
  { exerciseKey: 'some-key', exercise: 'body-curl', recordId: outline.id },
  { ...OPEN_SET, measured, painAfter: 3 },
);
const done = (of: typeof day) => of.exercises[0]?.sets[0];

describe('a training day of a corrected session', () => {
  it('takes the corrected figures, keeps the answers, and has no impulse any more', () => {
    const session = correctedSession(outline, review([correction(1, 'discard', [refTo(0)])]));
    const corrected = correctedDay(day, outline, session);
    expect(corrected).toMatchObject({ changedSets: 1, unmatchedSets: 0 });
    expect(done(corrected.day)?.measured?.repetitions).toBe((measured.repetitions ?? 0) - 1);
    expect(done(corrected.day)?.measured?.elbowImpulseNms).toBeNull();
    expect(done(corrected.day)?.painAfter).toBe(3);
    expect(done(day)?.measured).toEqual(measured);
  });

  it('stays as it is where nothing was corrected', () => {
    expect(correctedDay(day, outline, correctedSession(outline, review()))).toEqual({
      day,
      changedSets: 0,
      unmatchedSets: 0,
    });
  });

  it('says that it could not follow where it has other figures than the record', () => {
    const session = correctedSession(outline, review([correction(1, 'discard', [refTo(0)])]));
    const other = withSet(
      beginDay(inventedPlan(), day.id, day.startedAt),
      { exerciseKey: 'some-key', exercise: 'body-curl', recordId: outline.id },
      { ...OPEN_SET, measured: { ...measured, repetitions: 1 } },
    );
    expect(correctedDay(other, outline, session)).toEqual({ day: other, changedSets: 1, unmatchedSets: 1 });
  });
});
