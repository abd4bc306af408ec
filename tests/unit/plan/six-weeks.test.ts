import { describe, expect, it } from 'vitest';
import { dateWords } from '../../../src/core/feedback/date-words.ts';
import { proposalSchema } from '../../../src/core/plan/decision.ts';
import { dayOf } from '../../../src/core/plan/calendar.ts';
import { mayHoldsStart, maySessionStart } from '../../../src/core/plan/may-start.ts';
import { readDayValue, readPlanValue } from '../../../src/core/plan/read-plan.ts';
import { trendOf } from '../../../src/core/plan/trend.ts';
import { weekView } from '../../../src/core/plan/weeks.ts';
import { sixWeeks } from '../../helpers/six-weeks.ts';

/* The scenario that `npm run scenario` prints: what is proposed on the days that it was written for. */

const { firstPlan, secondPlan, days, versions, trained, decisions, end } = sixWeeks();

function on(date: string): { direction: string; toStageKey: string; said: string } {
  const day = days.find(({ moment }) => dateWords(dayOf(moment)) === date);
  if (!day) throw new Error(`The scenario has no ${date}.`);
  const { direction, toStageKey, reasons } = day.proposal;
  return { direction, toStageKey, said: reasons.map(({ sentence }) => sentence).join(' ') };
}

describe('six invented weeks', () => {
  it('no hold starts before the therapist has decided about the blood pressure', () => {
    expect(mayHoldsStart(firstPlan).mayStart).toBe(false);
    expect(mayHoldsStart(secondPlan).mayStart).toBe(true);
  });

  it.each([
    ['Tue 3 March', 'stay', 'hold', 'Mon 2 March does not count towards going on: 60 % of the dose'],
    ['Thu 5 March', 'stay', 'hold', 'The ceiling of that grip was reached'],
    ['Tue 10 March', 'advance', 'body-curl', '3 training days in a row (Wed 4 March to Mon 9 March)'],
    ['Thu 12 March', 'stay', 'body-curl', '38 % of the body-moving curls were shoulder-led'],
    ['Sat 14 March', 'stay', 'body-curl', 'pain the next morning was 4, above the ceiling of 2'],
    [
      'Tue 17 March',
      'step-back',
      'hold',
      'Fri 13 March (4 the next morning, ceiling 2) and Mon 16 March (4 in the session, ceiling 2)',
    ],
    ['Sat 21 March', 'stay', 'body-curl', 'pain the next morning was not said'],
    ['Sun 29 March', 'stay', 'body-curl', 'Fri 20 March does not count'],
    ['Mon 30 March', 'step-back', 'hold', 'No training for 10 days, since Fri 20 March'],
    [
      'Tue 31 March',
      'stay',
      'body-curl',
      'In the week of Mon 23 March, 0 of 3 asked training days were done',
    ],
    ['Thu 2 April', 'seek-care', 'body-curl', 'Wed 1 April: a pop and bruising'],
    [
      'Tue 7 April',
      'stay',
      'body-curl',
      'Over 5 weeks in this stage nothing changed by more than may be chance',
    ],
    ['Thu 9 April', 'advance', 'band-curl', '3 training days in a row (Fri 3 April to Wed 8 April)'],
    ['Sat 11 April', 'stay', 'band-curl', 'Felt hardest near straight'],
  ])('%s: %s, %s', (date, direction, toStageKey, words) => {
    const proposal = on(date);
    expect(proposal).toMatchObject({ direction, toStageKey });
    expect(proposal.said).toContain(words);
  });

  it('no session starts on the day of the red flag, nor the day after before the decision', () => {
    const flagged = trained.find(({ safetyYes }) => safetyYes.length > 0);
    if (!flagged) throw new Error('The scenario has no red flag.');
    const before = decisions.filter(({ decidedAt }) => decidedAt < flagged.startedAt);
    const past = { days: trained, versions, decisions };
    expect(flagged.exercises).toEqual([]);
    const known = versions.filter(({ writtenAt }) => writtenAt < flagged.startedAt);
    const next = { safetyYes: [], safetyAnsweredAt: '2026-04-02T08:00:00+01:00' };
    expect(maySessionStart(next, { days: trained, versions: known, decisions: before }).mayStart).toBe(false);
    expect(maySessionStart(next, past).mayStart).toBe(true);
  });

  it('a decision may differ from the proposal, and says why; versions follow from decisions', () => {
    expect(
      decisions.map(({ direction, proposal, newPlanVersion }) => [
        direction,
        proposal?.direction,
        newPlanVersion,
      ]),
    ).toEqual([
      ['advance', 'advance', 3],
      ['stay', 'step-back', 4],
      ['stay', 'step-back', null],
      ['stay', 'seek-care', null],
      ['advance', 'advance', 5],
    ]);
    expect(versions.map(({ version }) => version)).toEqual([1, 2, 3, 4, 5]);
  });

  it('the weeks show the missed one', () => {
    expect(weekView(versions, trained, end).map(({ missedDays }) => missedDays)).toEqual([
      0,
      1,
      0,
      1,
      3,
      1,
      null,
    ]);
  });

  it('lowering time, range and shoulder share end as no change', () => {
    const curls = trendOf(trained).filter(
      ({ exercise, limit }) => exercise === 'body-curl' && limit !== null,
    );
    expect(curls.map(({ measure, verdict }) => [measure, verdict])).toEqual([
      ['lowering', 'no-change'],
      ['shoulder-share', 'no-change'],
      ['range', 'no-change'],
    ]);
    expect(curls.every(({ change }) => change !== null && change !== 0)).toBe(true);
  });

  it('every plan, day and proposal passes its gate', () => {
    for (const plan of versions) expect(readPlanValue(plan).ok).toBe(true);
    for (const day of trained) expect(readDayValue(day).ok).toBe(true);
    for (const { proposal } of days) expect(proposalSchema.safeParse(proposal).success).toBe(true);
  });
});
