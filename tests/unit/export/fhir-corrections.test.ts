import { describe, expect, it } from 'vitest';
import type { FhirPart, FhirResource } from '../../../src/core/export/fhir-parts.ts';
import { fhirSession } from '../../../src/core/export/fhir-session.ts';
import { signedReview } from '../../../src/core/review/change-review.ts';
import { AT, LATER, outline } from '../review/sample-review.ts';
import { CORRECTED_REVIEW } from './corrected-review.ts';

/*
 * What the codes mean: FHIR R4 (4.0.1), Observation.status (entered-in-error: withdrawn after it was final; corrected: changed
 * to put an error right; preliminary: not verified yet) and Provenance.entity.role (revision, removal).
 */

const signed = signedReview(CORRECTED_REVIEW, 'Invented Therapist', LATER);
const count = outline.sets[0]?.judgement.repetitions.length ?? 0;

function entriesOf(bundle: FhirResource): FhirResource[] {
  return (bundle['entry'] as { resource: FhirResource }[]).map(({ resource }) => resource);
}

function observed(bundle: FhirResource, words: string): FhirResource {
  const found = entriesOf(bundle).filter(
    ({ code }) => (code as FhirPart | undefined)?.['text'] === `${words}: Body-moving curl`,
  );
  expect(found, words).toHaveLength(1);
  const [one] = found;
  if (one === undefined) throw new Error(words);
  return one;
}

const idsOf = (references: unknown): string[] =>
  ((references ?? []) as { reference: string }[]).map(({ reference }) => reference.replace('urn:uuid:', ''));
const repetitionsOf = (bundle: FhirResource): FhirResource[] =>
  entriesOf(bundle).filter(
    ({ resourceType, hasMember, code }) =>
      resourceType === 'Observation' &&
      hasMember === undefined &&
      String((code as FhirPart)['text']).startsWith('Repetition'),
  );
const countOf = (set: FhirResource): unknown =>
  (set['component'] as { code: { text: string }; valueQuantity: { value: number } }[]).find(
    ({ code }) => code.text === 'Repetitions, partial ones included',
  )?.valueQuantity.value;

describe('a session that was corrected and signed', () => {
  const bundle = fhirSession(outline, AT, signed);
  const set = observed(bundle, 'Set 1');

  it('has all that the program judged, and withdraws what was corrected', () => {
    const plain = repetitionsOf(fhirSession(outline, AT));
    expect(plain.map(({ status }) => status)).toEqual(plain.map(() => 'final'));
    const kept = repetitionsOf(bundle).filter(({ id }) => plain.some((one) => one.id === id));
    expect(kept.map(({ status }) => status)).toEqual(
      plain.map((_, place) => (place >= 1 && place <= 3 ? 'entered-in-error' : 'final')),
    );
    expect(kept.map(({ component }) => component)).toEqual(plain.map(({ component }) => component));
  });

  it('has what was put in place, derived from what it replaces, with the reason', () => {
    const replaced = [observed(bundle, 'Repetition 2'), observed(bundle, 'Repetition 3')];
    const put = repetitionsOf(bundle).filter(({ status }) => status === 'corrected');
    expect(put).toEqual([observed(bundle, 'Repetition 2 after corrections')]);
    expect(idsOf(put[0]?.['derivedFrom'])).toEqual(replaced.map(({ id }) => id));
    for (const reason of ['It was one, with a halt.', 'The upper arm swung back.'])
      for (const one of [...put, ...replaced])
        expect(JSON.stringify(one['note'])).toContain(`Reason: ${reason}`);
    expect(JSON.stringify(put[0]?.['component'])).toContain(
      '{"text":"Shoulder-dominant"},"valueBoolean":true',
    );
    expect(JSON.stringify(observed(bundle, 'Repetition 4')['note'])).toContain('Reason: It was a stretch.');
  });

  it('counts what stands: members and number of the set', () => {
    expect(set['status']).toBe('corrected');
    expect(countOf(set)).toBe(count - 2);
    const members = idsOf(set['hasMember']);
    expect(members).toHaveLength(count - 2);
    const withdrawn = repetitionsOf(bundle).filter(({ status }) => status === 'entered-in-error');
    for (const { id } of withdrawn) expect(members).not.toContain(id);
  });

  it('says of each correction where it comes from, when and why, and names nobody', () => {
    const made = entriesOf(bundle).filter(
      ({ resourceType, reason }) => resourceType === 'Provenance' && reason,
    );
    expect(made.map(({ reason, recorded }) => [reason, recorded])).toEqual(
      CORRECTED_REVIEW.corrections
        .filter(({ withdrawnAt }) => withdrawnAt === null)
        .map(({ reason, at }) => [[{ text: reason }], at]),
    );
    const roles = made.map(({ entity }) => (entity as { role: string }[]).map(({ role }) => role));
    expect(roles).toEqual([['revision', 'revision'], ['revision', 'revision'], ['removal']]);
    expect(idsOf(made[2]?.['target'])).toEqual([observed(bundle, 'Repetition 4').id]);
    expect(JSON.stringify(bundle)).not.toContain('Invented');
  });
});

it('corrections that nobody signed are preliminary, and nothing is withdrawn', () => {
  const bundle = fhirSession(outline, AT, CORRECTED_REVIEW);
  const plain = fhirSession(outline, AT);
  const set = observed(bundle, 'Set 1');
  expect(set).toEqual(observed(plain, 'Set 1'));
  expect(repetitionsOf(bundle).map(({ status }) => status)).toEqual([
    ...repetitionsOf(plain).map(() => 'final'),
    'preliminary',
  ]);
});

it('a review of other findings corrects nothing, and the set says so', () => {
  const other = { ...signed, recordDigest: '0'.repeat(64) };
  const bundle = fhirSession(outline, AT, other);
  expect(repetitionsOf(bundle)).toEqual(repetitionsOf(fhirSession(outline, AT)));
  const set = observed(bundle, 'Set 1');
  expect(set['status']).toBe('final');
  expect(JSON.stringify(set['note'])).toContain('other findings');
});
