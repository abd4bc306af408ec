import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { withWithdrawn } from '../../../src/core/review/change-review.ts';
import { correctedJudgement } from '../../../src/core/review/corrections.ts';
import { NO_VERDICT, partsFor, withVerdict } from '../../../src/core/review/make-correction.ts';
import { correctionSchema, type Correction, type ItemRef } from '../../../src/core/review/review-document.ts';
import { AT, correction, idOf, judgeByHandHere, judgement, LATER, refTo } from './sample-review.ts';

const { repetitions } = judgement;
const at = (index: number) => {
  const repetition = repetitions[index];
  if (repetition === undefined) throw new Error(`The sample has no repetition ${index}.`);
  return repetition;
};

function joined(first: number): Correction {
  const parts = partsFor({ kind: 'join' }, [at(first), at(first + 1)]) ?? [];
  return correction(1, 'join', [refTo(first), refTo(first + 1)], judgeByHandHere(parts)?.repetitions);
}

const shoulderLed = withVerdict(at(1), { ...NO_VERDICT, shoulderDominant: true });

describe('the sample', () => {
  it('has five or six curls', () => expect(repetitions.length).toBeGreaterThanOrEqual(5));
});

describe('one correction', () => {
  it('takes a repetition out, and keeps it among what was discarded', () => {
    const after = correctedJudgement(judgement, [correction(1, 'discard', [refTo(2)])]);
    expect(after.judgement.repetitions).toEqual(repetitions.filter((_, index) => index !== 2));
    expect(after.discarded).toHaveLength(1);
    expect(after.discarded[0]?.item).toEqual(repetitions[2]);
  });

  it('joins two neighbours into one that has both their times', () => {
    const after = correctedJudgement(judgement, [joined(1)]);
    expect(after.misfits).toEqual([]);
    expect(after.judgement.repetitions).toHaveLength(repetitions.length - 1);
    expect(after.judgement.repetitions[1]).toMatchObject({
      startSeconds: at(1).startSeconds,
      endSeconds: at(2).endSeconds,
    });
    expect(after.repetitions.map(({ corrections }) => corrections.length)).toEqual([
      0,
      1,
      ...repetitions.slice(3).map(() => 0),
    ]);
  });

  it('splits what was joined where it was joined, and finds the same repetitions within a tenth of a second', () => {
    const join = joined(1);
    const [whole] = join.instead.repetitions;
    if (whole === undefined) throw new Error('Nothing was joined.');
    const atSeconds = (at(1).endSeconds + at(2).startSeconds) / 2;
    const parts = judgeByHandHere(partsFor({ kind: 'split', atSeconds }, [whole]) ?? []);
    const ref: ItemRef = { from: 'correction', correctionId: join.id, part: 0 };
    const split = correction(2, 'split', [ref], parts?.repetitions);
    const after = correctedJudgement(judgement, [join, split]);
    expect(after.misfits).toEqual([]);
    expect(after.judgement.repetitions).toHaveLength(repetitions.length);
    for (const [index, found] of after.judgement.repetitions.entries()) {
      expect(Math.abs(found.startSeconds - at(index).startSeconds)).toBeLessThan(0.1);
      expect(Math.abs(found.endSeconds - at(index).endSeconds)).toBeLessThan(0.1);
      expect(Math.abs(found.loweringSeconds - at(index).loweringSeconds)).toBeLessThan(0.2);
    }
    expect(after.repetitions[1]?.corrections.map(({ id }) => id)).toEqual([join.id, split.id]);
  });

  it('judges a repetition otherwise, and what was noticed follows', () => {
    expect(shoulderLed.flags.map(({ kind }) => kind)).toContain('shoulder-dominant');
    const after = correctedJudgement(judgement, [correction(1, 'rejudge', [refTo(1)], [shoulderLed])]);
    expect(after.judgement.repetitions[1]?.shoulderDominant).toBe(true);
    const back = withVerdict(shoulderLed, { ...NO_VERDICT, shoulderDominant: at(1).shoulderDominant });
    expect(back).toEqual(at(1));
  });

  it('keeps an end that was set, to the moment', () => {
    const span = { startSeconds: at(1).startSeconds + 0.2, endSeconds: at(1).endSeconds - 0.1 };
    const [moved] = judgeByHandHere(partsFor({ kind: 'rejudge', span }, [at(1)]) ?? [])?.repetitions ?? [];
    expect(moved?.startSeconds).toBeCloseTo(span.startSeconds, 6);
    expect(moved?.endSeconds).toBeCloseTo(span.endSeconds, 6);
  });

  it('adds what was missed, where nothing stands', () => {
    const gone = correction(1, 'discard', [refTo(2)]);
    const { startSeconds, endSeconds } = at(2);
    const parts = partsFor({ kind: 'add', span: { startSeconds, endSeconds } }, []) ?? [];
    const add = correction(2, 'add', [], judgeByHandHere(parts)?.repetitions);
    expect(correctedJudgement(judgement, [gone, add]).judgement.repetitions).toHaveLength(repetitions.length);
    expect(correctedJudgement(judgement, [add]).misfits).toEqual([{ correction: add, why: 'overlaps' }]);
  });

  it('cannot be had where nobody bends and lowers the elbow', () => {
    const part = { startSeconds: 1, endSeconds: 1.1, keepsStart: true, keepsEnd: true };
    expect(judgeByHandHere([part])).toBeNull();
    expect(partsFor({ kind: 'split', atSeconds: at(2).startSeconds }, [at(1)])).toBeNull();
  });
});

describe('a correction that does not fit', () => {
  const cases: [string, Correction[], string][] = [
    ['of a repetition at another time', [otherTime()], 'not-in-record'],
    ['of one that was discarded', [discard(1, 1), discard(2, 1)], 'replaced-before'],
    ['of what a withdrawn one put in place', withdrawnSplit(), 'stands-on-nothing'],
    ['of two that are no neighbours', [apart()], 'not-neighbours'],
    ['that puts something elsewhere', [correction(1, 'rejudge', [refTo(0)], [at(3)])], 'elsewhere'],
    ['that covers another', [covering()], 'overlaps'],
  ];
  it.each(cases)('%s is told and not done', (_, corrections, why) => {
    const after = correctedJudgement(judgement, corrections);
    expect(after.misfits.map((misfit) => misfit.why)).toEqual([why]);
    const others = corrections.filter(({ id }) => id !== after.misfits[0]?.correction.id);
    expect(correctedJudgement(judgement, others).judgement).toEqual(after.judgement);
  });

  function discard(number: number, index: number): Correction {
    return correction(number, 'discard', [refTo(index)]);
  }
  function otherTime(): Correction {
    return correction(1, 'discard', [{ from: 'record', index: 1, startSeconds: 1.25, endSeconds: 3 }]);
  }
  function withdrawnSplit(): Correction[] {
    const join = { ...joined(1), withdrawnAt: LATER };
    return [join, correction(2, 'discard', [{ from: 'correction', correctionId: join.id, part: 0 }])];
  }
  function apart(): Correction {
    return { ...joined(1), targets: [refTo(1), refTo(3)] };
  }
  function covering(): Correction {
    const wide = { ...at(1), endSeconds: at(2).endSeconds };
    return correction(1, 'rejudge', [refTo(1)], [wide]);
  }
});

/** Any corrections: sensible ones, and such as name what is not there. */
const anyRef = fc.oneof(
  fc.integer({ min: 0, max: repetitions.length - 1 }).map((index) => refTo(index)),
  fc.record({
    from: fc.constant('correction' as const),
    correctionId: fc.integer({ min: 0, max: 7 }).map(idOf),
    part: fc.integer({ min: 0, max: 1 }),
  }),
);
const anyRepetition = fc.integer({ min: 0, max: repetitions.length - 1 }).map((index) => at(index));
const anyCorrection = fc.oneof(
  fc.tuple(fc.constant('discard' as const), fc.tuple(anyRef), fc.constant([])),
  fc.tuple(fc.constant('rejudge' as const), fc.tuple(anyRef), fc.tuple(anyRepetition)),
  fc.tuple(fc.constant('join' as const), fc.tuple(anyRef, anyRef), fc.tuple(anyRepetition)),
  fc.tuple(fc.constant('split' as const), fc.tuple(anyRef), fc.tuple(anyRepetition, anyRepetition)),
  fc.tuple(fc.constant('add' as const), fc.constant([]), fc.tuple(anyRepetition)),
);
const anyCorrections = fc
  .array(anyCorrection, { maxLength: 8 })
  .map((all) => all.map(([kind, targets, put], index) => correction(index, kind, targets, [...put])));

describe('whatever the corrections', () => {
  it('without any the judgement is the same', () => {
    expect(correctedJudgement(judgement, []).judgement).toEqual(judgement);
  });

  it('every one is done, withdrawn or told as a misfit, and the judgement that was given stays', () => {
    const before = JSON.stringify(judgement);
    fc.assert(
      fc.property(anyCorrections, (corrections) => {
        const after = correctedJudgement(judgement, corrections);
        const seen = new Set([
          ...after.repetitions.flatMap((one) => one.corrections.map(({ id }) => id)),
          ...after.discarded.flatMap((one) => [...one.corrections.map(({ id }) => id), one.by.id]),
          ...after.misfits.map((misfit) => misfit.correction.id),
        ]);
        expect(corrections.filter(({ id }) => !seen.has(id))).toEqual([]);
        expect(JSON.stringify(judgement)).toBe(before);
      }),
    );
  });

  it('withdrawing all of them, in any order, gives the original back', () => {
    fc.assert(
      fc.property(
        anyCorrections.chain((all) =>
          fc.tuple(fc.constant(all), fc.shuffledSubarray(all, { minLength: all.length })),
        ),
        ([corrections, order]) => {
          const gone = order.reduce<readonly Correction[]>(
            (left, { id }) => withWithdrawn(left, id, LATER),
            corrections,
          );
          expect(gone.map(({ id, at: made, reason }) => ({ id, at: made, reason }))).toEqual(
            corrections.map(({ id, at: made, reason }) => ({ id, at: made, reason })),
          );
          expect(correctedJudgement(judgement, gone)).toEqual(correctedJudgement(judgement, []));
        },
      ),
    );
  });

  it('the last one withdrawn, everything is as before it', () => {
    fc.assert(
      fc.property(anyCorrections, anyCorrection, (before, [kind, targets, put]) => {
        const last = correction(100, kind, targets, [...put]);
        const withdrawn = withWithdrawn([...before, last], last.id, LATER);
        expect(correctedJudgement(judgement, withdrawn)).toEqual(correctedJudgement(judgement, before));
      }),
    );
  });

  it('what a withdrawn one put in place takes what stands on it along', () => {
    const join = joined(1);
    const ref: ItemRef = { from: 'correction', correctionId: join.id, part: 0 };
    const gone = withWithdrawn([join, correction(2, 'discard', [ref])], join.id, LATER);
    expect(gone.map(({ withdrawnAt }) => withdrawnAt)).toEqual([LATER, LATER]);
    expect(AT).not.toBe(LATER);
  });

  it('the schema takes no correction with another number of holds or repetitions than its kind says', () => {
    const good = joined(1);
    expect(correctionSchema.safeParse(good).success).toBe(true);
    for (const kind of ['add', 'discard', 'split', 'rejudge'] as const)
      expect(correctionSchema.safeParse({ ...good, kind }).success).toBe(false);
    expect(correctionSchema.safeParse({ ...good, item: 'hold' }).success).toBe(false);
  });
});
