import { expect, it } from 'vitest';
import { byNeed, NEED_KINDS } from '../../../src/core/review/needs.ts';
import { CASELOAD_NOW, handedOver, inventedCaseload, listOf } from '../../helpers/caseload.ts';

/* The made scenario that the list of people is shown with (`npm run caseload`). */

it('the made scenario has 200 sessions, and somebody for every reason that the list sorts by', () => {
  const list = byNeed(listOf(inventedCaseload().map(handedOver)), CASELOAD_NOW);
  expect(list.reduce((sum, { person }) => sum + person.sessions.length, 0)).toBe(200);
  const kinds = new Set(list.flatMap(({ needs }) => needs.map(({ kind }) => kind)));
  expect(NEED_KINDS.filter((kind) => !kinds.has(kind))).toEqual([]);
});
