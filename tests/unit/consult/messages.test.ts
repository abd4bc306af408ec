import { describe, expect, it } from 'vitest';
import { CONSULT_LIMITS } from '../../../src/core/consult/limits.ts';
import {
  liveMessageSchema,
  recordMessageSchema,
  type ConsultSide,
} from '../../../src/core/consult/messages.ts';
import {
  messageProblem,
  readLiveMessage,
  readRecordMessage,
} from '../../../src/core/consult/read-message.ts';
import { messageSentence } from '../../../src/core/feedback/consult-words.ts';
import { mutated } from '../../faults/mutate.ts';
import { CONTENTS, LIVE, MESSAGES } from '../../helpers/consult-samples.ts';
import { seededRandom } from '../../helpers/seeded-random.ts';

describe('messages', () => {
  it('come back as they were', () => {
    for (const message of MESSAGES)
      expect(readRecordMessage(JSON.stringify(message))).toEqual({ ok: true, value: message });
    expect(readLiveMessage(JSON.stringify(LIVE))).toEqual({ ok: true, value: LIVE });
    const kinds = recordMessageSchema.options.map(({ shape }) => shape.kind.value);
    expect(new Set(MESSAGES.map(({ kind }) => kind))).toEqual(new Set(kinds));
  });

  it('fit into the room that a live message has, with the longest figures', () => {
    const text = JSON.stringify({ ...LIVE, timeSeconds: 123456.123456789, measuredMs: 123456789.123456 });
    expect(text.length).toBeLessThan(CONSULT_LIMITS.liveCharacters / 2);
  });

  it('10,000 mutated ones are either good by the schema or refused with a sentence, and none throws', () => {
    const chance = seededRandom(7);
    const counts = { taken: 0, refused: 0 };
    const all = [...MESSAGES, LIVE];
    for (let each = 0; each < 10_000; each++) {
      const good = all[Math.floor(chance() * all.length)] ?? LIVE;
      const { text } = mutated(good, chance);
      const read = good.kind === 'live' ? readLiveMessage(text) : readRecordMessage(text);
      if (read.ok) {
        const schema = good.kind === 'live' ? liveMessageSchema : recordMessageSchema;
        expect(schema.safeParse(read.value).success).toBe(true);
        counts.taken += 1;
      } else {
        expect(messageSentence(read.problem)).toMatch(/^Something .*left out\.$/);
        counts.refused += 1;
      }
    }
    expect(counts.taken + counts.refused).toBe(10_000);
    // A changed figure can still be a good one; most changes are none.
    expect(counts.refused).toBeGreaterThan(7_000);
    process.stdout.write(`10,000 mutated messages: ${counts.refused} refused, ${counts.taken} still good\n`);
  });

  it.each([
    ['a name twice', '{"kind":"goodbye","kind":"phrase","isSame":true}', 'not-read'],
    ['an unknown kind', '{"kind":"erase"}', 'not-read'],
    ['a name too many', '{"kind":"goodbye","then":1}', 'not-read'],
    ['no text at all', '', 'not-read'],
    ['more than a message holds', JSON.stringify({ kind: 'goodbye', x: 'y'.repeat(100_000) }), 'too-long'],
  ])('refuses %s', (_what, text, problem) => {
    expect(readRecordMessage(text)).toEqual({ ok: false, problem });
  });

  it('give the room of a description to descriptions alone', () => {
    const sdp = 'a'.repeat(CONSULT_LIMITS.mediaCharacters);
    expect(readRecordMessage(JSON.stringify({ kind: 'media', type: 'offer', sdp })).ok).toBe(true);
    const long = `${' '.repeat(CONSULT_LIMITS.messageCharacters)}{"kind":"goodbye"}`;
    expect(readRecordMessage(long)).toEqual({ ok: false, problem: 'too-long' });
  });

  it('hold no words that cannot be shown', () => {
    for (const words of ['a\u0000b', 'left\u202eright', 'two\nlines', ' ']) {
      const content = { what: 'cue', cueId: 1, cue: null, words };
      const message = { ...MESSAGES.at(-1), content };
      expect(readRecordMessage(JSON.stringify(message))).toEqual({ ok: false, problem: 'not-read' });
    }
  });
});

describe('who may say what', () => {
  const entryOf = (index: number) => {
    const found = MESSAGES.filter(({ kind }) => kind === 'entry')[index];
    if (found === undefined) throw new Error('no entry');
    return found;
  };

  it('each entry by one side only', () => {
    const may = (from: ConsultSide, hasMoved = false) =>
      CONTENTS.filter(
        (_, index) => messageProblem(entryOf(index), { from, isJoined: true, hasMoved }) === null,
      ).map((content) => (content.what === 'set-asked' ? content.action : content.what));
    expect(new Set(may('therapist'))).toEqual(
      new Set([
        'prescription',
        'start',
        'stop',
        'measuring-asked',
        'cue',
        'pain-asked',
        'note',
        'picture-frozen',
        'picture-drawn',
        'picture-cleared',
        'picture-noted',
        'picture-let-go',
        'joint-watched',
        'demonstration-shown',
        'repetition-asked',
        'showing-ended',
      ]),
    );
    expect(new Set(may('patient'))).toEqual(
      new Set([
        'consent',
        'set-begun',
        'set-ended',
        'cue-heard',
        'pain-answered',
        'repetition-shown',
        'measured-at',
      ]),
    );
    // Once the patient has let the therapist's machine measure, that says what was measured, and the patient may end a set there.
    const more = (from: ConsultSide) => may(from, true).filter((what) => !may(from).includes(what));
    expect(more('therapist')).toEqual(['set-begun', 'set-ended', 'repetition-shown']);
    expect(more('patient')).toEqual(['stop']);
  });

  it('a record is told to be kept by the therapist, and by the patient once it was measured there', () => {
    const kept = MESSAGES.find(({ kind }) => kind === 'parcel-kept');
    if (kept === undefined) throw new Error('no sample');
    const problems = [
      messageProblem(kept, { from: 'therapist', isJoined: true, hasMoved: false }),
      messageProblem(kept, { from: 'patient', isJoined: true, hasMoved: false }),
      messageProblem(kept, { from: 'patient', isJoined: true, hasMoved: true }),
    ];
    expect(problems).toEqual([null, 'wrong-side', null]);
  });

  it('before the phrase is answered nothing is seen, heard, asked or measured', () => {
    const early = MESSAGES.filter(
      (message) =>
        messageProblem(message, { from: 'patient', isJoined: false, hasMoved: true }) === 'too-early',
    );
    expect(new Set(early.map(({ kind }) => kind))).toEqual(
      new Set(['media', 'showing', 'return-way', 'received', 'parcel-kept', 'entry']),
    );
  });

  it('only the inviting side commits itself, and nobody greets as the other', () => {
    const [hello, commitment] = MESSAGES;
    if (hello === undefined || commitment === undefined) throw new Error('no samples');
    expect(messageProblem(commitment, { from: 'patient', isJoined: false, hasMoved: false })).toBe(
      'wrong-side',
    );
    expect(messageProblem(hello, { from: 'therapist', isJoined: false, hasMoved: false })).toBe('wrong-side');
  });
});
