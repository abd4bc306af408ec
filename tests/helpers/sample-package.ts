import { readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { PackageDesk } from '../../src/adapters/exchange/package-desk.ts';
import { sealingBy } from '../../src/adapters/exchange/worker-sealing.ts';
import { fileOf, type PackageFile, type PackageItem } from '../../src/core/exchange/package-items.ts';
import type { Sealing } from '../../src/core/exchange/sealing.ts';
import type { PackageHeading } from '../../src/core/exchange/write-package.ts';
import { readRecord } from '../../src/core/session/migrations.ts';
import type { SessionRecord } from '../../src/core/session/session-record.ts';
import { dayOn, inventedPlan, PLAN_ID } from './plan-days.ts';

/* A package of an invented person, for tests, for the campaign of faults and for `npm run exchange-check`. */

export const SAMPLE_MOMENT = '2026-03-09T08:00:00+01:00';

export const SAMPLE_HEADING: PackageHeading = {
  id: '7d3f0a52-2b1e-4f0c-9a55-0d6b1a4e9c11',
  writtenAt: SAMPLE_MOMENT,
  software: { name: 'Forearmed', version: '0.1.0' },
  label: 'Invented',
};

/** A kept session record, brought up to this version. */
export function sampleRecord(): SessionRecord {
  const url = new URL('../fixtures/records/v4-body-curl.record.json', import.meta.url);
  const reading = readRecord(readFileSync(fileURLToPath(url), 'utf8'));
  if (!reading.ok) throw new Error(reading.problem.kind);
  return reading.record;
}

/** One of each kind that a package carries but reviews. The video is no video: its bytes are never looked at. */
export function sampleItems(): PackageItem[] {
  const plan = inventedPlan();
  const record = sampleRecord();
  const bytes = Uint8Array.from(
    { length: 300_000 },
    (_, index) => (index * index * 31 + (index >> 3)) & 0xff,
  );
  return [
    { kind: 'plan', plan },
    { kind: 'day', day: dayOn(plan, '03-02') },
    { kind: 'day', day: dayOn(plan, '03-04') },
    {
      kind: 'decision',
      decision: {
        id: '1c0f5a77-5f5e-4a0d-8a43-0b7f7c9d2e10',
        planId: PLAN_ID,
        planVersion: 1,
        newPlanVersion: null,
        decidedAt: '2026-03-05T09:00:00+01:00',
        proposal: null,
        direction: 'stay',
        reason: 'Stay on this stage.',
      },
    },
    { kind: 'record', record },
    {
      kind: 'video',
      video: {
        sessionId: record.id,
        setIndex: 0,
        mimeType: 'video/webm',
        startSeconds: 0,
        bytes: bytes.length,
        isEnded: true,
      },
      content: new Blob([bytes]),
    },
  ];
}

export function sampleFiles(items: readonly PackageItem[] = sampleItems()): PackageFile[] {
  return items.map(fileOf);
}

/** Sealing without a worker: the same code on this thread. passphraseWork: little, so that tests are quick. */
export function sealingHere(passphraseWork = 10): Sealing {
  const desk = new PackageDesk(passphraseWork);
  return sealingBy(
    (question, onShare) => desk.answer(question, onShare),
    () => SAMPLE_MOMENT,
  );
}
