import type { Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { z } from 'zod';
import type { Plan, PlannedExercise } from '../../../src/core/plan/plan.ts';
import { planFragment } from '../../../src/core/plan/plan-link.ts';
import { givenCueSchema, type CueName, type GivenCue } from '../../../src/core/session/cue-log.ts';
import { openApp, type OpenApp } from '../../browser/ui-begin-live/open-app.ts';
import { inventedPlan } from '../../helpers/plan-days.ts';
import { film, filmBeforeCamera } from '../../helpers/film-camera.ts';

/*
 * A whole exercise of a plan with both hands on the bar: from the third action on neither a key nor the pointer is touched.
 * The generated figure of the demo clip stands before the camera, and the test only says which stretch of the clip it plays:
 * hanging arm, bending, holding, letting go. Sets start, are counted, end, the rest runs, the next set starts.
 */

const PATIENCE_MS = 120_000;
const HOLD_SECONDS = 7;
const REST_SECONDS = 5;
/** Stretches of hold-drift, seconds, by its truth: the hanging arm, the way up and the hold, the hold, letting go. */
const STRETCH = { hanging: [0.1, 1.3], holding: [3.6, 9.4], lettingGo: [22.6, 25] } as const;

let app: OpenApp;
beforeAll(async () => {
  app = await openApp(['--use-fake-ui-for-media-stream']);
});
afterAll(async () => {
  expect(app.foreignRequests()).toEqual([]);
  expect(app.policyViolations()).toEqual([]);
  await app.close();
});

describe('A planned exercise without a hand', () => {
  it('starts its sets, ends them, rests and goes on, and keeps which cue was given when and why', async () => {
    const { page, context } = await app.openPage();
    await filmBeforeCamera(page, 'demo-clips/hold-drift.mp4');
    await page.goto(`${app.url}#${planFragment(twoShortHolds())}`);
    await page.reload();
    await page.getByRole('button', { name: /begin today’s session$/ }).click();
    await page.getByRole('group', { name: 'No to all. Pain now?' }).waitFor();
    await page.keyboard.press('1');
    await page.getByRole('button', { name: 'Yes, it stays in them' }).click();

    // From here on the person only moves.
    await page.locator('.approach.right-angle').waitFor({ timeout: PATIENCE_MS });
    for (const setIndex of [0, 1]) {
      await film(page, STRETCH.holding);
      await cueOf(page, setIndex, 'hold-done');
      await film(page, STRETCH.lettingGo);
      await page.waitForTimeout(2_000);
      await film(page, STRETCH.hanging);
      await page.getByRole('group', { name: 'Pain now?' }).waitFor({ timeout: PATIENCE_MS });
    }

    const [first, second] = await cuesOfSets(page);
    const names = (cues: readonly GivenCue[] | undefined): CueName[] => (cues ?? []).map(({ cue }) => cue);
    expect(names(first)).toEqual(['go', 'in-range', 'time-left', 'hold-done', 'rest', 'rest-over']);
    expect(names(second)).toEqual(['go', 'in-range', 'time-left', 'hold-done']);
    // This browser has no voice: every cue sounded as a tone and stood on the screen.
    expect(new Set([...(first ?? []), ...(second ?? [])].map(({ by }) => by))).toEqual(new Set(['tone']));
    const times = (first ?? []).map(({ timeSeconds }) => timeSeconds);
    expect([...times].sort((a, b) => a - b)).toEqual(times);
    const done = first?.find(({ cue }) => cue === 'hold-done');
    expect(done?.why).toMatchObject({ what: 'asked-done' });
    expect(done?.why.measured?.value).toBeGreaterThanOrEqual(HOLD_SECONDS);
    expect(done?.why.measured?.value).toBeLessThan(HOLD_SECONDS + 0.5);
    const [rest, over] = (first ?? []).slice(-2);
    expect((over?.timeSeconds ?? 0) - (rest?.timeSeconds ?? 0)).toBeGreaterThan(REST_SECONDS - 1);
    await context.close();
  }, 300_000);
});

/** The plan that stands ready, for the figure of the clip, with two short holds and a short rest. */
function twoShortHolds(): Plan {
  const plan = inventedPlan();
  const shortened = (exercise: PlannedExercise): PlannedExercise => {
    if (exercise.exercise !== 'hold' || exercise.dose.kind !== 'hold') return exercise;
    const dose = { ...exercise.dose, sets: 2, easierSetsBefore: 0, holdSeconds: HOLD_SECONDS };
    return { ...exercise, dose: { ...dose, restSeconds: REST_SECONDS } };
  };
  return {
    ...plan,
    person: { ...plan.person, treatedSide: 'right', statureCm: 168 },
    stages: plan.stages.map((stage) => ({ ...stage, exercises: stage.exercises.map(shortened) })),
  };
}

/** Settles when a cue was kept of a set. */
async function cueOf(page: Page, setIndex: number, cue: CueName): Promise<void> {
  const deadline = Date.now() + PATIENCE_MS;
  for (;;) {
    const cues = (await cuesOfSets(page))[setIndex] ?? [];
    if (cues.some((given) => given.cue === cue)) return;
    if (Date.now() > deadline)
      throw new Error(`Set ${setIndex + 1} never had "${cue}", only ${JSON.stringify(cues)}.`);
    await page.waitForTimeout(250);
  }
}

/** The cues of each set as the database keeps them, in order. */
async function cuesOfSets(page: Page): Promise<readonly (readonly GivenCue[])[]> {
  const rows = await page.evaluate(
    () =>
      new Promise<unknown>((resolve, reject) => {
        const opening = indexedDB.open('forearmed');
        opening.onerror = () => reject(new Error('no database'));
        opening.onsuccess = () => {
          const all = opening.result.transaction('sets').objectStore('sets').getAll();
          all.onerror = () => reject(new Error('no sets'));
          all.onsuccess = () => {
            opening.result.close();
            resolve(all.result);
          };
        };
      }),
  );
  const kept = z.array(z.object({ notes: z.object({ cues: z.array(givenCueSchema) }).optional() }));
  return kept.parse(rows).map(({ notes }) => notes?.cues ?? []);
}
