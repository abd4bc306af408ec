import { expect, test } from 'vitest';
import { openedHere } from '../../../src/core/export/open-record.ts';
import { bodyCurlRecord } from '../../browser/ui-look-back/sample-records.ts';

const untold = (): void => undefined;

test('a body-moving curl that is opened again has the body weight at its hands, another exercise none', async () => {
  const record = bodyCurlRecord();
  const { handShares } = await openedHere(record).measure(0, untold);
  const straight = handShares.find(({ flexionDeg }) => flexionDeg === 20)?.handShare;
  // Measured lean-backs, arms straight: 53 % of body weight at 45 deg from upright, 68 % at 60 deg (Melrose & Dawes 2015,
  // J Athl Enhanc 4(1), n = 40). The body here leans some 55 deg; the smallest force reads 3 to 13 points too low.
  expect(straight?.value).toBeGreaterThan(0.53 - 0.13);
  expect(straight?.value).toBeLessThan(0.68 - 0.03);
  expect(straight?.most).toBeGreaterThan(0.53);
  for (const { handShare } of handShares) {
    expect(handShare.least).toBeLessThanOrEqual(handShare.value);
    expect(handShare.most).toBeGreaterThanOrEqual(handShare.value);
  }
  const settings = { ...record.settings, exercise: 'free-curl' } as const;
  expect((await openedHere({ ...record, settings }).measure(0, untold)).handShares).toEqual([]);
});
