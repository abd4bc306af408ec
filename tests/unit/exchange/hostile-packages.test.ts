import { beforeAll, describe, expect, it } from 'vitest';
import { packageSentence } from '../../../src/core/feedback/package-words.ts';
import { hostilePackages } from '../../helpers/hostile-packages.ts';
import { sealingHere } from '../../helpers/sample-package.ts';

const sealing = sealingHere();
/** Of the packages whose seal was touched, whether each opened. */
const openedUnder: boolean[] = [];
let refused = 0;
let leftOut = 0;
let read = 0;

beforeAll(async () => {
  for await (const { how, file, secretKeys } of hostilePackages(90)) {
    const opening = await sealing.open(file, { secretKeys, passphrase: null });
    if (how.includes('seal')) openedUnder.push(opening.kind === 'opened');
    if (opening.kind !== 'opened') {
      if (opening.kind !== 'refused') throw new Error(opening.kind);
      expect(packageSentence(opening.problem)).toMatch(/^[A-Z].*\.$/);
      refused += 1;
      continue;
    }
    const { opened } = opening;
    for (let place = 0; place < opened.manifest.entries.length; place += 1) {
      const reading = await opened.item(place);
      if (reading.ok) read += 1;
      else leftOut += 1;
      if ('refused' in reading) expect(packageSentence(reading.refused)).toMatch(/^[A-Z].*\.$/);
    }
  }
});

describe('90 packages made hostile from a good one', () => {
  it('never throw: each is refused with a sentence, or what is damaged in it is left out', () => {
    expect(refused).toBeGreaterThan(50);
    expect(refused + read + leftOut).toBeGreaterThan(90);
  });

  it('a seal that was touched opens as nothing', () => {
    expect(openedUnder).not.toContain(true);
    expect(openedUnder.length).toBe(45);
  });
});
