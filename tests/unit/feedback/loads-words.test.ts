import { describe, expect, test } from 'vitest';
import {
  BAND_CHECKS,
  BAR_CHECKS,
  ceilingReachedSentences,
  EVENNESS_MEANING,
  FORCE_LINE_WORDS,
  LOADS_ARE_ESTIMATES,
  seatSentence,
  THERAPIST_ONLY,
} from '../../../src/core/feedback/loads-words.ts';
import { loadProblemWords, loadWords, quantityWords } from '../../../src/core/feedback/statics-words.ts';
import { SUPPORT_SHAPES } from '../../../src/core/loads/equipment.ts';
import { ESTIMATED_QUANTITIES, LOAD_PROBLEMS } from '../../../src/core/loads/load-figure.ts';
import { BAR_AT_ITS_ENDS as BAR } from '../../helpers/sample-equipment.ts';

describe('every figure of statics', () => {
  test.each(ESTIMATED_QUANTITIES)('says that it is an estimate, and of what: %s', (of) => {
    const { name, estimateOf } = quantityWords(of);
    expect(estimateOf).toMatch(/^(An|A rough) estimate of /);
    expect(estimateOf.endsWith('.')).toBe(true);
    expect(name.length).toBeGreaterThan(3);
  });

  test('stands with its span, and what has none says why', () => {
    expect(loadWords({ value: 98.07, least: 90.6, most: 105.2, of: 'bar-ceiling' })).toBe('98 N (91 to 105)');
    expect(loadWords({ value: -0.82, least: -1, most: -0.6, of: 'band-pronating-moment' })).toBe(
      '−0.82 N m (−1.00 to −0.60)',
    );
    expect(loadWords({ notKnown: 'stretched-beyond-readings' })).toMatch(/No force is given from a guess/);
  });
});

describe('what is said of loads', () => {
  test('is never a starting load, and never urges on', () => {
    expect(THERAPIST_ONLY).toContain('never a starting load');
    const all = [
      THERAPIST_ONLY,
      LOADS_ARE_ESTIMATES,
      EVENNESS_MEANING,
      ...BAR_CHECKS,
      ...BAND_CHECKS,
      ...SUPPORT_SHAPES.map(seatSentence),
      ...LOAD_PROBLEMS.map(loadProblemWords),
      ...Object.values(FORCE_LINE_WORDS).map(({ meaning }) => meaning),
      ...ceilingReachedSentences(BAR),
    ];
    for (const sentence of all) expect(sentence).not.toMatch(/!|try harder|push on|well done/i);
  });

  test('of a hand that rose names the ceiling and the choices, and leaves them to the therapist', () => {
    const sentences = ceilingReachedSentences(BAR).join(' ');
    expect(sentences).toContain('98 N at each hand, was reached');
    expect(sentences).toContain('up to 196 N');
    expect(sentences).toContain('your decision');
    // In the middle no other grip gives more.
    expect(ceilingReachedSentences({ ...BAR, gripsM: [1.1] }).join(' ')).not.toContain('elsewhere');
  });
});
