import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { addRoundTrip, clockOffset, type RoundTrip } from '../../../src/core/consult/clock-offset.ts';
import {
  addEntry,
  courseLines,
  emptyCourse,
  isStillDue,
  noteReceived,
  takeEntry,
  unsent,
  type Course,
} from '../../../src/core/consult/course.ts';
import { NO_LINK, stepLink, type LinkEvent, type LinkState } from '../../../src/core/consult/link-state.ts';
import type { EntryMessage } from '../../../src/core/consult/messages.ts';
import { linkEndSentence } from '../../../src/core/feedback/consult-words.ts';
import { CONTENTS } from '../../helpers/consult-samples.ts';

const WHEN = { madeMs: 0, at: '2026-03-02T18:05:09.250+01:00' };
const NOTE = { what: 'note', words: 'x' } as const;

function must<T>(reading: { readonly ok: true; readonly value: T } | { readonly ok: false }): T {
  if (!reading.ok) throw new Error('refused');
  return reading.value;
}

function added(course: Course): Course {
  const next = addEntry(course, NOTE, WHEN);
  if (next === null) throw new Error('full');
  return next;
}

describe('the course', () => {
  // What happens to two sides: each adds entries; what is on the way is delivered in order, or the line breaks and all of it is lost; after
  // a break each sends again what the other may not have.
  const steps = fc.array(
    fc.constantFrom('therapist adds', 'patient adds', 'to patient', 'to therapist', 'breaks'),
    { maxLength: 120 },
  );

  it('is the same on both sides whatever breaks in between, nothing lost and nothing twice', () => {
    fc.assert(
      fc.property(steps, (taken) => {
        const course = { therapist: emptyCourse('therapist'), patient: emptyCourse('patient') };
        const way: Record<'therapist' | 'patient', EntryMessage[]> = { therapist: [], patient: [] };
        const other = { therapist: 'patient', patient: 'therapist' } as const;
        const add = (side: 'therapist' | 'patient'): void => {
          course[side] = added(course[side]);
          way[other[side]].push(...course[side].own.slice(-1));
        };
        const deliver = (to: 'therapist' | 'patient'): void => {
          const entry = way[to].shift();
          if (entry === undefined) return;
          course[to] = must(takeEntry(course[to], entry));
          course[other[to]] = must(noteReceived(course[other[to]], course[to].other.length));
        };
        const breaks = (): void => {
          way.therapist = [...unsent(course.patient)];
          way.patient = [...unsent(course.therapist)];
        };
        for (const step of taken) {
          if (step === 'therapist adds') add('therapist');
          else if (step === 'patient adds') add('patient');
          else if (step === 'to patient') deliver('patient');
          else if (step === 'to therapist') deliver('therapist');
          else breaks();
        }
        breaks();
        while (way.therapist.length > 0) deliver('therapist');
        while (way.patient.length > 0) deliver('patient');
        expect(courseLines(course.patient)).toEqual(courseLines(course.therapist));
        const count = taken.filter((step) => step.endsWith('adds')).length;
        expect(courseLines(course.patient)).toHaveLength(count);
      }),
      { numRuns: 500 },
    );
  });

  it('puts a cause before its effect', () => {
    const therapist = added(added(emptyCourse('therapist')));
    let patient = emptyCourse('patient');
    for (const entry of therapist.own) patient = must(takeEntry(patient, entry));
    patient = added(patient);
    expect(courseLines(patient).map(({ side }) => side)).toEqual(['therapist', 'therapist', 'patient']);
  });

  it('refuses a gap, and a side that says it saw what there is not', () => {
    const [first, second] = added(added(emptyCourse('therapist'))).own;
    if (first === undefined || second === undefined) throw new Error('no entries');
    const patient = emptyCourse('patient');
    expect(takeEntry(patient, second)).toEqual({ ok: false, problem: 'out-of-order' });
    expect(takeEntry(patient, { ...first, seen: 5 })).toEqual({ ok: false, problem: 'out-of-order' });
    expect(noteReceived(patient, 1)).toEqual({ ok: false, problem: 'out-of-order' });
  });

  it('starts nothing and says nothing that comes late, and always stops', () => {
    const late = CONTENTS.filter((content) => !isStillDue(content, 20_000));
    expect(late.map(({ what }) => what)).toEqual([
      'set-asked',
      'cue',
      'cue',
      'pain-asked',
      'measuring-asked',
    ]);
    expect(CONTENTS.filter((content) => !isStillDue(content, 500))).toEqual([]);
    // Without a clock nobody knows how late it is.
    expect(isStillDue({ what: 'set-asked', action: 'start', name: null }, null)).toBe(false);
    expect(isStillDue({ what: 'set-asked', action: 'stop', name: null }, null)).toBe(true);
  });
});

describe('the link', () => {
  const run = (events: readonly LinkEvent[], from: LinkState = NO_LINK): LinkState =>
    events.reduce(stepLink, from);
  const BEGIN = { kind: 'begin', nowMs: 0, patienceSeconds: 30 } as const;
  const UP = { kind: 'line-up', nowMs: 1000 } as const;
  const DOWN = { kind: 'line-down', nowMs: 2000 } as const;
  const same = (where: 'here' | 'there') => ({ kind: 'phrase', where, isSame: true }) as const;
  const anyEvent: fc.Arbitrary<LinkEvent> = fc.oneof(
    fc.record({ kind: fc.constantFrom('line-up', 'line-down', 'tick'), nowMs: fc.nat(100_000) }),
    fc.record({
      kind: fc.constant('phrase'),
      where: fc.constantFrom('here', 'there'),
      isSame: fc.boolean(),
    }),
  );

  it('is joined only after both sides have said that the words are the same', () => {
    fc.assert(
      fc.property(fc.array(anyEvent, { maxLength: 30 }), (events) => {
        let state = run([BEGIN]);
        const saidSame = { here: false, there: false };
        for (const event of events) {
          const wasChecked = state.stage === 'checking' || state.stage === 'broken';
          state = stepLink(state, event);
          if (event.kind === 'phrase' && event.isSame && wasChecked) saidSame[event.where] = true;
          if (state.stage === 'joined') expect(saidSame).toEqual({ here: true, there: true });
        }
      }),
      { numRuns: 1000 },
    );
  });

  it('comes back to where it was, and a difference ends it', () => {
    const joined = run([BEGIN, UP, same('here'), same('there')]);
    expect(joined).toEqual({ stage: 'joined' });
    expect(run([DOWN, UP], joined)).toEqual({ stage: 'joined' });
    expect(run([DOWN], joined).stage).toBe('broken');
    const differs = run([BEGIN, UP, { kind: 'phrase', where: 'there', isSame: false }]);
    expect(differs).toEqual({ stage: 'ended', why: 'phrase-differs' });
  });

  it('ends when no way is found in time, and an end is final', () => {
    const ended = run([BEGIN, { kind: 'tick', nowMs: 31_000 }]);
    expect(ended).toEqual({ stage: 'ended', why: 'no-way' });
    expect(run([UP, same('here'), same('there')], ended)).toEqual(ended);
    expect(run([BEGIN, { kind: 'tick', nowMs: 29_000 }]).stage).toBe('connecting');
    for (const why of ['here', 'there', 'phrase-differs', 'hostile', 'no-way', 'other-version'] as const)
      expect(linkEndSentence(why)).toMatch(/\.$/);
  });
});

describe('the clocks', () => {
  it('the true offset lies within the stated uncertainty, however uneven the two ways are', () => {
    const trips = fc.array(fc.record({ there: fc.nat(900), back: fc.nat(900), busy: fc.nat(50) }), {
      minLength: 1,
    });
    fc.assert(
      fc.property(fc.integer({ min: -1e6, max: 1e6 }), trips, (offsetMs, ways) => {
        let known: readonly RoundTrip[] = [];
        for (const [index, { there, back, busy }] of ways.entries()) {
          const askedMs = 2e6 + index * 2000;
          const receivedMs = askedMs + there + offsetMs;
          const heardMs = askedMs + there + busy + back;
          known = addRoundTrip(known, { askedMs, receivedMs, answeredMs: receivedMs + busy, heardMs });
        }
        const found = clockOffset(known);
        if (found === null) throw new Error('no offset');
        expect(Math.abs(found.offsetMs - offsetMs)).toBeLessThanOrEqual(found.uncertaintyMs + 1e-6);
      }),
    );
  });

  it('passes over times that cannot be, and knows nothing before the first', () => {
    const impossible = { askedMs: 100, receivedMs: 500, answeredMs: 900, heardMs: 200 };
    expect(clockOffset(addRoundTrip([], impossible))).toBeNull();
    expect(clockOffset(addRoundTrip([], { ...impossible, answeredMs: 400 }))).toBeNull();
  });
});
