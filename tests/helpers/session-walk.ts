import type { Page } from 'playwright-core';
import type { ApproachStep } from '../../src/core/feedback/approach.ts';
import type { Plan, PlannedExercise } from '../../src/core/plan/plan.ts';
import { planFragment } from '../../src/core/plan/plan-link.ts';
import { pressByKeyboard } from './by-keyboard.ts';
import { film, filmBeforeCamera, type Film } from './film-camera.ts';
import { inventedPlan } from './plan-days.ts';

/*
 * A patient's whole session by keyboard alone, from a plan's link to its end, with the figure of a demo clip before the
 * camera. Each state is held still until whoever walks along has looked at it: every picture, size, contrast, finding and
 * reading of these states comes from this one way. Sets do not end by themselves here, and the count-in is long.
 */

/** A state of the session that is reached. */
interface WalkedState {
  readonly name: string;
  /** Read from three metres; the others near by, at the keyboard. */
  readonly isFar: boolean;
  /** Brings the state back, where it went on by itself meanwhile. */
  readonly keep: () => Promise<void>;
}
export type Look = (state: WalkedState) => Promise<void>;

const PATIENCE_MS = 120_000;
const REST_SECONDS = 40;
/** Stretches of hold-drift by its truth, seconds: the hanging arm, and the hold in its range. */
const HOLD_FILM = { hanging: [0.1, 1.3], holding: [3.6, 9.4] } as const satisfies Record<string, Film>;
/** Stretches of band-curl-oblique by its truth, seconds: the hanging arm, and the first repetitions. */
const CURL_FILM = { hanging: [0.1, 1.2], curling: [1.2, 17] } as const satisfies Record<string, Film>;

/** What a walk does at its states. */
interface Walk {
  readonly page: Page;
  readonly look: (name: string, isFar?: boolean, keep?: () => Promise<void>) => Promise<void>;
}

/** Two sets of a hold: every state there is, from the link to the end of the day. */
export async function walkHoldSession(page: Page, url: string, look: Look): Promise<void> {
  const walk = walkOf(page, look);
  await filmBeforeCamera(page, 'demo-clips/hold-drift.mp4', 'empty');
  await openLink(page, url, planWith('hold', 'right', 168));
  await page.getByRole('button', { name: 'Keep it and begin today’s session' }).waitFor();
  await walk.look('link');
  await pressByKeyboard(page, 'Keep it and begin today’s session');
  await page.getByRole('group', { name: 'No to all. Pain now?' }).waitFor();
  await walk.look('before');
  await page.keyboard.press('1');
  await page.getByRole('button', { name: 'Yes, it stays in them' }).waitFor();
  await walk.look('prepare-bar');
  await pressByKeyboard(page, 'Yes, it stays in them');

  await step(walk, 'what-to-do');
  await step(walk, 'where-to-stand');
  await film(page, HOLD_FILM.hanging);
  await step(walk, 'right-angle');
  await step(walk, 'test-pull');
  await page.keyboard.press('ArrowRight');
  await page.getByText('Bend to target').waitFor({ timeout: PATIENCE_MS });
  await walk.look('ready', true);

  // The first set starts by itself, without a key.
  await film(page, HOLD_FILM.holding);
  await page.getByRole('button', { name: /^Stop/ }).waitFor({ timeout: PATIENCE_MS });
  await page.locator('.state.within').waitFor({ timeout: PATIENCE_MS });
  await walk.look('hold', true);
  await film(page, 'empty');
  await page.locator('.state .word', { hasText: 'Not measured' }).waitFor({ timeout: PATIENCE_MS });
  await walk.look('not-measured', true);
  await film(page, 'none');
  await page
    .getByText(/^No picture has come/)
    .first()
    .waitFor({ timeout: PATIENCE_MS });
  await walk.look('no-picture', true);
  await film(page, HOLD_FILM.holding);
  await page.locator('.state.within').waitFor({ timeout: PATIENCE_MS });
  await page.keyboard.press('Space');
  await page.getByRole('button', { name: /^Go on/ }).waitFor();
  await walk.look('paused', true);
  await page.keyboard.press('Escape');
  await afterSetWithPain(walk);
  await film(page, HOLD_FILM.hanging);
  await secondSet(walk);
  await endOfDay(walk);
}

/** One set of a band curl: the states that a hold lacks, up to the rest after it. */
export async function walkCurlSession(page: Page, url: string, look: Look): Promise<void> {
  const walk = walkOf(page, look);
  await filmBeforeCamera(page, 'demo-clips/band-curl-oblique.mp4', CURL_FILM.hanging);
  await openLink(page, url, planWith('band-curl', 'left', 162));
  await pressByKeyboard(page, 'Keep it and begin today’s session');
  await page.getByRole('group', { name: 'No to all. Pain now?' }).waitFor();
  await page.keyboard.press('1');
  await page.getByRole('button', { name: 'Palm down' }).waitFor();
  await walk.look('prepare-band');
  await pressByKeyboard(page, 'Palm down');
  await step(walk, 'what-to-do', 'what-to-do-band');
  await page.keyboard.press('ArrowRight');
  await page.getByRole('button', { name: /^Stop/ }).waitFor({ timeout: PATIENCE_MS });
  await film(page, CURL_FILM.curling);
  await page.getByText('Repetitions', { exact: true }).waitFor();
  await page
    .locator('.digits', { hasText: /^[1-9]$/ })
    .last()
    .waitFor({ timeout: PATIENCE_MS });
  await walk.look('curl', true);
  await page.keyboard.press('Escape');
  await page.getByRole('group', { name: 'Pain now?' }).waitFor({ timeout: PATIENCE_MS });
  await page.keyboard.press('0');
  await page.getByRole('group', { name: 'How hard was it?' }).waitFor();
  await page.keyboard.press('5');
  await page.getByRole('group', { name: 'Where was it hardest?' }).waitFor();
  await walk.look('hardest');
  await page.keyboard.press('3');
  await page.getByRole('timer', { name: 'Rest' }).waitFor();
  await walk.look('rest-curl', true);
}

async function afterSetWithPain({ page, look }: Walk): Promise<void> {
  await page.getByRole('group', { name: 'Pain now?' }).waitFor({ timeout: PATIENCE_MS });
  await look('pain', true);
  // More than the plan allows, so that its offers come.
  await page.keyboard.press('5');
  await page.getByText(/your plan allows up to/).waitFor();
  await look('offers');
  await page.keyboard.press('2');
  await page.getByRole('group', { name: 'Where does it hurt?' }).waitFor();
  await look('places');
  // The question has the focus; its first answer is the next stop.
  await page.keyboard.press('Tab');
  await page.keyboard.press('Space');
  if (!(await page.getByRole('checkbox', { name: 'crook of the elbow' }).isChecked()))
    throw new Error('The first place was not chosen by keyboard.');
  await pressByKeyboard(page, 'Go on');
  await page.getByRole('group', { name: 'How hard was it?' }).waitFor();
  await look('effort', true);
  await page.keyboard.press('5');
  await page.getByRole('timer', { name: 'Rest' }).waitFor();
  await look('rest', true);
}

async function secondSet({ page, look }: Walk): Promise<void> {
  await pressByKeyboard(page, 'Show it again');
  await page.getByRole('button', { name: 'Back to the rest' }).waitFor();
  await look('shown-again', true);
  await pressByKeyboard(page, 'Back to the rest');
  await page.getByText('Bend to target').waitFor({ timeout: PATIENCE_MS });
  await look('next', true);
  await pressByKeyboard(page, 'Start set 2');
  await page.getByText('seconds until the set starts').waitFor();
  await look('count-in', true);
  await page.keyboard.press('Escape');
  await page.getByRole('button', { name: 'Stop this exercise' }).waitFor();
}

async function endOfDay({ page, look }: Walk): Promise<void> {
  await pressByKeyboard(page, 'Stop this exercise');
  await page.getByRole('heading', { name: 'What the plan asks for' }).waitFor();
  await look('list');
  await pressByKeyboard(page, 'End today’s session');
  await page.getByRole('group', { name: 'Pain at the end?' }).waitFor();
  await look('pain-at-end');
  await page.keyboard.press('0');
  await page.getByRole('heading', { name: 'Today’s session is over' }).waitFor();
  await look('over');
}

function walkOf(page: Page, look: Look): Walk {
  const still = (): Promise<void> => Promise.resolve();
  return { page, look: (name, isFar = false, keep = still) => look({ name, isFar, keep }) };
}

/** A step of the approach is waited for, or gone to by key, and held by key. */
async function step({ page, look }: Walk, wanted: ApproachStep, name: string = wanted): Promise<void> {
  const STEPS: readonly ApproachStep[] = [
    'what-to-do',
    'where-to-stand',
    'right-angle',
    'test-pull',
    'ready',
  ];
  const view = page.locator('.approach');
  await view.waitFor({ timeout: PATIENCE_MS });
  const keep = async (): Promise<void> => {
    for (let keys = 0; keys < 8; keys++) {
      const classes =
        (await view.getAttribute('class', { timeout: 1000 }).catch(() => null))?.split(' ') ?? [];
      if (classes.includes(wanted)) return;
      const at = STEPS.findIndex((each) => classes.includes(each));
      const isReady = at < 0;
      if (isReady) await pressByKeyboard(page, 'Show it again');
      else await page.keyboard.press(at < STEPS.indexOf(wanted) ? 'ArrowRight' : 'ArrowLeft');
      await page.waitForTimeout(150);
    }
    throw new Error(`The approach did not stay at ${wanted}.`);
  };
  await keep();
  await look(name, true, keep);
  await keep();
}

async function openLink(page: Page, url: string, plan: Plan): Promise<void> {
  // What is wished of sets is kept on the machine; the page takes it up when it is loaded.
  await page.addInitScript(() => {
    const wish = { endsByItself: false, countInSeconds: 30 };
    localStorage.setItem('forearmed.preferences', JSON.stringify(wish));
  });
  await page.goto(`${url}#${planFragment(plan)}`);
  await page.reload();
}

/** The plan that stands ready, with two short sets of one exercise, for the figure of a clip. */
function planWith(name: 'hold' | 'band-curl', treatedSide: 'left' | 'right', statureCm: number): Plan {
  const plan = inventedPlan();
  const shortened = (exercise: PlannedExercise): readonly PlannedExercise[] => {
    if (exercise.exercise !== name) return [];
    const few = { sets: 2, restSeconds: REST_SECONDS, easierSetsBefore: 0 };
    if (exercise.exercise === 'hold' && exercise.dose.kind === 'hold')
      return [{ ...exercise, dose: { ...exercise.dose, ...few, holdSeconds: 30 } }];
    return exercise.exercise === 'band-curl' && exercise.dose.kind === 'repetitions'
      ? [{ ...exercise, dose: { ...exercise.dose, sets: 2, restSeconds: REST_SECONDS } }]
      : [exercise];
  };
  const stages = plan.stages
    .map((stage) => ({ ...stage, exercises: stage.exercises.flatMap(shortened) }))
    .filter(({ exercises }) => exercises.length > 0);
  const stageKey = stages[0]?.key ?? plan.stageKey;
  return { ...plan, person: { ...plan.person, treatedSide, statureCm }, stages, stageKey };
}
