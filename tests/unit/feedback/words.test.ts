import { describe, expect, it } from 'vitest';
import { EXERCISES } from '../../../src/core/exercises/exercise.ts';
import { FLAG_KINDS } from '../../../src/core/exercises/judgement.ts';
import { startsByItselfWords } from '../../../src/core/feedback/hands-free-words.ts';
import { flagWords } from '../../../src/core/feedback/flag-words.ts';
import { reasonSentence, reasonShort } from '../../../src/core/feedback/reasons.ts';
import { NOT_MEASURED_REASONS } from '../../../src/core/kinematics/measured.ts';

/** Words that the interface does not use: blame, praise by rote, and other names for its own things. */
const NOT_OUR_WORDS = /\b(fail|failed|cheat|bad|wrong|great|affected|injured|zone)\b|!/i;

describe('sentences for reasons', () => {
  it.each(NOT_MEASURED_REASONS)('stands for %s and keeps to the vocabulary', (reason) => {
    const sentence = reasonSentence(reason);
    expect(sentence).toMatch(/^[A-Z].*\.$/);
    expect(sentence).not.toMatch(NOT_OUR_WORDS);
  });

  it('is another one for each reason', () => {
    expect(new Set(NOT_MEASURED_REASONS.map(reasonSentence)).size).toBe(NOT_MEASURED_REASONS.length);
  });
});

describe('what is read from three metres while there is no cue', () => {
  it.each(NOT_MEASURED_REASONS)('says what to do about %s in 15 letters, or nothing', (reason) => {
    const short = reasonShort(reason);
    expect(short?.length ?? 0).toBeLessThanOrEqual(15);
    expect(short ?? 'Nothing').toMatch(/^[A-Z]/);
    expect(short ?? '').not.toMatch(NOT_OUR_WORDS);
  });

  it.each(EXERCISES)(
    'says how a set of %s starts, in 15 letters and whole, wherever it is up to the person',
    (exercise) => {
      for (const notYet of ['may-not', 'view', 'posture', 'moving', 'counting', null] as const) {
        const words = startsByItselfWords(notYet, exercise, 2);
        expect(words?.short.length ?? 0).toBeLessThanOrEqual(15);
        expect(words?.short).not.toBe('');
        expect(words?.sentence ?? 'Nothing.').toMatch(/^[A-Z].*\.$/);
        expect(words === null).toBe(notYet === 'may-not' || notYet === 'view' || notYet === null);
      }
      expect(startsByItselfWords('counting', exercise, 2)?.short).toBe('Stay still, 2 s');
    },
  );
});

describe('words for flags', () => {
  it.each(FLAG_KINDS)('name %s for both readers and say what it means', (kind) => {
    const { patient, therapist, meaning } = flagWords(kind);
    for (const words of [patient, therapist, meaning]) expect(words).not.toMatch(NOT_OUR_WORDS);
    expect(patient.split(' ').length).toBeLessThanOrEqual(5);
    expect(meaning).toMatch(/^[A-Z].*\.$/);
  });

  it('call a row shoulder-led for patients and shoulder-dominant for therapists', () => {
    expect(flagWords('shoulder-dominant').patient).toBe('Shoulder-led');
    expect(flagWords('shoulder-dominant').therapist).toContain('Shoulder-dominant');
  });
});
