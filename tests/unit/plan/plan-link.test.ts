import fc from 'fast-check';
import { deflateSync, strToU8 } from 'fflate';
import { readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { crc32 as referenceCrc32 } from 'node:zlib';
import { describe, expect, it } from 'vitest';
import { planProblemSentence } from '../../../src/core/feedback/plan-words.ts';
import { crc32 } from '../../../src/core/documents/crc32.ts';
import { defaultPlan } from '../../../src/core/plan/default-plan.ts';
import { planSchema } from '../../../src/core/plan/plan.ts';
import { holdsPlan, planFragment, planOfFragment } from '../../../src/core/plan/plan-link.ts';
import { readPlan } from '../../../src/core/plan/read-plan.ts';
import { inventedPlan, PLAN_ID } from '../../helpers/plan-days.ts';
import { anyPlan } from './any-plan.ts';

const SAMPLES = fileURLToPath(new URL('../../fixtures/plans/', import.meta.url));
const plan = inventedPlan();
const fragment = planFragment(plan);

function kindOf(of: string): string {
  const reading = planOfFragment(of);
  if (reading.ok) return 'read';
  expect(planProblemSentence(reading.problem)).toMatch(/^This .*\.$/);
  return reading.problem.kind;
}

/** A link with any content behind a check sum that fits it. */
function linkOf(text: string): string {
  const bytes = strToU8(text);
  const check = Buffer.alloc(4);
  check.writeUInt32BE(crc32(bytes));
  return `plan=1.${Buffer.concat([check, deflateSync(bytes, { level: 9 })]).toString('base64url')}`;
}

describe('a plan as a link', () => {
  it('comes back as it was, with and without the sign before the fragment', () => {
    fc.assert(
      fc.property(anyPlan, fc.constantFrom('', '#'), (any, sign) => {
        const link = sign + planFragment(any);
        expect(holdsPlan(link)).toBe(true);
        expect(planOfFragment(link)).toEqual({ ok: true, plan: planSchema.parse(any) });
      }),
    );
  });

  it('uses only letters that every mail program leaves alone', () => {
    expect(fragment).toMatch(/^plan=1\.[A-Za-z0-9_-]+$/);
  });

  it('is short enough for a QR code that a telephone reads from a screen', () => {
    // 858 bytes are what version 20 of ISO/IEC 18004 holds at correction level L, 97 modules a side (from memory).
    const described = readPlan(readFileSync(`${SAMPLES}v1-all-equipment.plan.json`, 'utf8'));
    if (!described.ok) throw new Error(described.problem.kind);
    expect(fragment.length).toBeLessThan(300);
    expect(planFragment(described.plan).length).toBeLessThan(600);
  });

  it('opens a link of the first format for ever', () => {
    const kept = readFileSync(`${SAMPLES}link-1.txt`, 'utf8').trim();
    const file = readPlan(readFileSync(`${SAMPLES}v1-all-equipment.plan.json`, 'utf8'));
    expect(file.ok).toBe(true);
    expect(planOfFragment(kept)).toEqual(file);
  });

  it('throws on what is no plan', () => {
    expect(() => planFragment({ ...plan, version: 0 })).toThrow();
  });
});

describe('a link that is not as it was sent', () => {
  it('is never opened as another plan, whatever character was changed, lost or put in', () => {
    const content = fragment.slice('plan=1.'.length);
    let refused = 0;
    fc.assert(
      fc.property(
        fc.nat(content.length - 1),
        fc.constantFrom(...'ABCxyz019-_'),
        fc.constantFrom('change', 'lose', 'insert'),
        (at, character, how) => {
          fc.pre(how !== 'change' || content[at] !== character);
          const rest = content.slice(how === 'insert' ? at : at + 1);
          const changed = content.slice(0, at) + (how === 'lose' ? '' : character) + rest;
          fc.pre(changed !== content);
          const reading = planOfFragment(`plan=1.${changed}`);
          // Some changes mean nothing: the last bits of the last character, another way of packing the same text.
          expect(reading.ok ? reading.plan : plan).toEqual(plan);
          refused += reading.ok ? 0 : 1;
        },
      ),
      { numRuns: 500 },
    );
    expect(refused).toBeGreaterThan(450);
  });

  it.each([
    ['nothing', '', 'not-ours'],
    ['another fragment', '#record', 'not-ours'],
    ['no content', 'plan=1.', 'link-damaged'],
    ['letters of another alphabet', 'plan=1.ab+/', 'link-damaged'],
    ['a check sum without content', 'plan=1.AAAAAA', 'link-damaged'],
    ['a later format', 'plan=7.AAAA', 'newer-version'],
    ['another document', linkOf('{"format":"forearmed-session-record"}'), 'not-ours'],
    ['no JSON', linkOf('plan'), 'not-json'],
    ['a link of a megabyte', `plan=1.${'A'.repeat(1_000_000)}`, 'too-long'],
  ])('%s', (_, link, expected) => {
    expect(kindOf(link)).toBe(expected);
  });

  it('a bomb, before it fills memory', () => {
    const bomb = linkOf(' '.repeat(20_000_000));
    expect(bomb.length).toBeLessThan(200_000);
    const before = process.memoryUsage().arrayBuffers;
    expect(kindOf(bomb)).toBe('too-long');
    expect(process.memoryUsage().arrayBuffers - before).toBeLessThan(15_000_000);
  });
});

describe('CRC-32', () => {
  it('has the check value of the CRC catalogue', () => {
    // Greg Cook, Catalogue of parametrised CRC algorithms, CRC-32/ISO-HDLC: check 0xcbf43926.
    expect(crc32(strToU8('123456789'))).toBe(0xcbf43926);
  });

  it('is that of zlib for any bytes', () => {
    fc.assert(
      fc.property(fc.uint8Array(), (bytes) => {
        expect(crc32(bytes)).toBe(referenceCrc32(bytes));
      }),
    );
  });
});

describe('the plan that stands ready', () => {
  it('passes the gate', () => {
    const ready = defaultPlan(plan.person, plan.writtenAt, PLAN_ID);
    expect(readPlan(JSON.stringify(ready))).toEqual({ ok: true, plan: ready });
  });
});
