import { describe, expect, it } from 'vitest';
import { signedAt } from '../../../src/core/review/signed-at.ts';

const review = (scope: 'whole' | 'for-patient', day: string, isSigned: boolean) => ({
  scope,
  sessionId: 's',
  createdAt: `2026-03-${day}T09:00:00+01:00`,
  signOff: isSigned ? { name: 'Invented', at: `2026-03-${day}T10:00:00+01:00` } : null,
});

describe('when a session was signed', () => {
  it('is said by the newest whole review; one begun after a signed one waits', () => {
    expect(signedAt([review('whole', '02', true)]).get('s')).toBe('2026-03-02T10:00:00+01:00');
    expect(signedAt([review('whole', '02', true), review('whole', '03', false)]).size).toBe(0);
  });

  it('is said by the copy for the patient where nothing else is kept', () => {
    expect(signedAt([review('for-patient', '02', true)]).get('s')).toBe('2026-03-02T10:00:00+01:00');
    const both = [review('for-patient', '04', true), review('whole', '03', false)];
    expect(signedAt(both).size).toBe(0);
    expect(signedAt(both.toReversed()).size).toBe(0);
  });
});
