import type { Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { accept, answer, invite, openPair, phraseOn, type Pair } from '../../../scripts/consult/pair.ts';
import { planFragment } from '../../../src/core/plan/plan-link.ts';
import { shortHoldPlan } from '../../helpers/plan-days.ts';
import { axeFindings } from '../ui-begin-live/open-app.ts';

/** Two real browsers link up; what is measured in a consult is shown by `npm run consult:check`. */
let pair: Pair;
beforeAll(async () => {
  pair = await openPair();
});
afterAll(() => pair.close());

/** Presses a button by keyboard. */
const press = (page: Page, name: string): Promise<void> => page.getByRole('button', { name }).press('Enter');

describe('a consult', () => {
  it('links two browsers up by texts alone, by keyboard, with nothing for axe to find on any of its screens', async () => {
    const { therapist, patient } = pair;
    const found: string[] = [];
    const look = async (what: string, page: Page): Promise<void> => {
      found.push(...(await axeFindings(page)).map((finding) => `${what}: ${finding}`));
    };
    await therapist.goto(`${pair.url}#${planFragment(shortHoldPlan('right'))}`);
    await press(therapist, 'Keep it and follow it here');
    await therapist.getByRole('button', { name: 'Stop following it here' }).waitFor();
    const invitation = await invite(pair, 'link by hand');
    await look('invitation', therapist);
    const text = await answer(pair, invitation);
    await look('answer', patient);
    await accept(therapist, text);
    expect(await phraseOn(therapist)).toBe(await phraseOn(patient));
    await look('check phrase', patient);

    await press(therapist, 'They are the same');
    await therapist.getByText('Waiting for the other side').waitFor();
    // Before both have said so there is nothing to be seen or asked.
    await expect.poll(() => therapist.getByRole('button', { name: 'Start a set' }).count()).toBe(0);
    await press(patient, 'They are the same');
    // Out of the plan on the therapist's machine, with its dose; then without one, with another target.
    await therapist.getByRole('combobox', { name: 'Plan on this machine' }).selectOption({ index: 1 });
    await press(therapist, 'Ask for it: Isometric hold');
    await patient
      .getByText('Your therapist asks: Isometric hold, right arm, 90 ± 10 deg, 2 sets of 6 s')
      .waitFor();
    const target = therapist.getByRole('textbox', { name: 'Target angle' });
    await target.fill('85');
    await target.press('Tab');
    await press(therapist, 'Ask for this');
    await patient
      .getByText('Your therapist asks: Isometric hold, right arm, 85 ± 10 deg, 2 sets of 6 s')
      .waitFor();
    await look('therapist', therapist);
    await look('patient', patient);

    await press(therapist, 'How it is done');
    for (const page of [therapist, patient])
      await page.getByRole('img', { name: /^How it is done: / }).waitFor();
    await look('showing, therapist', therapist);
    await look('showing, patient', patient);
    await press(therapist, 'Stop showing');
    await patient.getByRole('img', { name: /^How it is done: / }).waitFor({ state: 'detached' });

    await press(therapist, 'elbow');
    await patient.getByText('Watch the elbow').waitFor();
    await press(therapist, 'Ask for pain');
    await patient.getByRole('radio', { name: '4', exact: true }).press(' ');
    await therapist.getByText('Pain: 4 of 10').waitFor();
    await press(patient, 'Stop everything');
    await therapist.getByText('The other side ended the consult.').waitFor();
    expect(found).toEqual([]);
    expect(pair.foreignRequests()).toEqual([]);
    expect(pair.violations()).toEqual([]);
  });
});
