import { sha256 } from '@noble/hashes/sha2.js';
import { bytesToHex, utf8ToBytes } from '@noble/hashes/utils.js';
import { isMeasured, type Measured } from '../kinematics/measured.ts';
import { reasonWords } from '../feedback/measure-words.ts';

/*
 * Parts of resources by FHIR R4 (4.0.1, hl7.org/fhir/R4). What is said in codes is said only where the code is sure;
 * everything else is text. No resource holds a name, an address or a date of birth.
 */

/** A resource, or a part of one, as plain JSON. */
export type FhirPart = { readonly [name: string]: unknown };
export type FhirResource = FhirPart & { readonly resourceType: string; readonly id: string };

/** Units of measure in codes (unitsofmeasure.org, UCUM). */
const UCUM = 'http://unitsofmeasure.org';
const LOINC = 'http://loinc.org';
/** Why a value is absent (FHIR R4, value set data-absent-reason). */
const ABSENT = 'http://terminology.hl7.org/CodeSystem/data-absent-reason';

/** LOINC 72514-3: Pain severity - 0-10 verbal numeric rating [Score] - Reported. */
const PAIN_CODE = { system: LOINC, code: '72514-3' };

/** Units as they are written, with their codes in UCUM; what stands in braces is a remark of ours and counts as 1. */
const UNITS = {
  deg: { unit: 'deg', code: 'deg' },
  s: { unit: 's', code: 's' },
  cm: { unit: 'cm', code: 'cm' },
  percent: { unit: '%', code: '%' },
  count: { unit: '', code: '1' },
  score: { unit: 'of 10', code: '{score}' },
  upperArms: { unit: 'upper-arm lengths', code: '{upper_arm_length}' },
  degPerS: { unit: 'deg/s', code: 'deg/s' },
  degPer10s: { unit: 'deg per 10 s', code: 'deg/(10.s)' },
} as const;
export type FhirUnit = keyof typeof UNITS;

/** A UUID that follows from words: the same words give the same one (RFC 9562, section 5.8). */
export function derivedId(...words: readonly string[]): string {
  const hex = bytesToHex(sha256(utf8ToBytes(words.join('\u0000'))));
  const variant = ((parseInt(hex.slice(16, 17), 16) & 3) | 8).toString(16);
  return `${hex.slice(0, 8)}-${hex.slice(8, 12)}-8${hex.slice(13, 16)}-${variant}${hex.slice(17, 20)}-${hex.slice(20, 32)}`;
}

/** Points at a resource of the same bundle. */
export function referenceTo({ id }: Pick<FhirResource, 'id'>): FhirPart {
  return { reference: `urn:uuid:${id}` };
}

/** A concept in words only. */
export function concept(text: string): FhirPart {
  return { text };
}

/** Pain from 0 to 10 as reported, with its LOINC code. */
export function painConcept(text: string): FhirPart {
  return { coding: [PAIN_CODE], text };
}

/** An amount with its unit; shares are given as 0 to 1 and become per cent. */
export function quantity(value: number, unit: FhirUnit): FhirPart {
  const { unit: written, code } = UNITS[unit];
  const rounded = Number((unit === 'percent' ? value * 100 : value).toFixed(4)) + 0;
  return { value: rounded, ...(written === '' ? {} : { unit: written }), system: UCUM, code };
}

/** A component with an amount; none where there is none. */
export function amount(text: string, value: number | null, unit: FhirUnit): FhirPart[] {
  return value === null ? [] : [{ code: concept(text), valueQuantity: quantity(value, unit) }];
}

/** A component with yes or no; none where it could not be judged. */
export function yesOrNo(text: string, value: boolean | null): FhirPart[] {
  return value === null ? [] : [{ code: concept(text), valueBoolean: value }];
}

/** A measured value and both ends of its 95 % interval, or why there is none. */
export function measured(text: string, value: Measured, unit: FhirUnit): FhirPart[] {
  if (isMeasured(value))
    return [
      ...amount(text, value.value, unit),
      ...amount(`${text}, lower end of the 95 % interval`, value.low, unit),
      ...amount(`${text}, upper end of the 95 % interval`, value.high, unit),
    ];
  const code = value.notMeasured === 'not-applicable' ? 'not-applicable' : 'unknown';
  const dataAbsentReason = { coding: [{ system: ABSENT, code }], text: reasonWords(value.notMeasured) };
  return [{ code: concept(text), dataAbsentReason }];
}

/** Whoever it is about: only a number that stands for them here. */
export function unnamedPatient(about: string): FhirResource {
  return { resourceType: 'Patient', id: derivedId('patient', about) };
}

/** The program that measured and wrote. */
export function programDevice({
  name,
  version,
}: {
  readonly name: string;
  readonly version: string;
}): FhirResource {
  return {
    resourceType: 'Device',
    id: derivedId('device', name, version),
    deviceName: [{ name, type: 'user-friendly-name' }],
    type: concept('Program that measures exercises from video'),
    version: [{ value: version }],
  };
}

/** Where resources come from. source: the id of the document that they were made of. */
export function provenance(
  targets: readonly FhirResource[],
  device: FhirResource,
  source: { readonly id: string; readonly display: string },
  recorded: string,
  author: string | null,
): FhirResource {
  return {
    resourceType: 'Provenance',
    id: derivedId('provenance', source.id, ...targets.map(({ id }) => id)),
    target: targets.map(referenceTo),
    recorded,
    agent: [
      ...(author === null ? [] : [{ type: concept('Author'), who: { display: author } }]),
      { type: concept('Assembler'), who: referenceTo(device) },
    ],
    entity: [
      {
        role: 'source',
        what: {
          identifier: { system: 'urn:ietf:rfc:3986', value: `urn:uuid:${source.id}` },
          display: source.display,
        },
      },
    ],
  };
}

/** Resources together, each under the address that others point at. timestamp: moment with offset. */
export function collection(id: string, timestamp: string, resources: readonly FhirResource[]): FhirResource {
  return {
    resourceType: 'Bundle',
    id,
    type: 'collection',
    timestamp,
    entry: resources.map((resource) => ({ fullUrl: `urn:uuid:${resource.id}`, resource })),
  };
}
