import { openPair, accept, answer, invite, linkUp, phraseOn } from './pair.ts';

/** What must be refused: somebody in between, a second answer to one invitation, and texts that are none. */
export async function refusals(said: (what: string, isRight: boolean, found: string) => void): Promise<void> {
  const [pair, between] = [await openPair(), await openPair()];
  try {
    // Whoever carries the texts answers the therapist himself, and invites the patient himself.
    const stolen = await invite(pair, 'text by hand');
    await accept(pair.therapist, await answer(between, stolen));
    await accept(between.therapist, await answer(pair, await invite(between, 'text by hand')));
    const [here, there] = [await phraseOn(pair.therapist), await phraseOn(pair.patient)];
    said('somebody in between', here !== there, `"${here}" at the therapist, "${there}" at the patient`);
    await pair.therapist.getByRole('button', { name: 'They differ: end it' }).click();
    const end = pair.therapist.getByText(/because the words were not the same/);
    await end.waitFor();
    said('somebody in between, ended', true, (await end.textContent()) ?? '');
  } finally {
    await between.close();
    await pair.close();
  }

  const [two, third] = [await openPair(), await openPair()];
  try {
    const invitation = await invite(two, 'text by hand');
    const second = await answer(third, invitation);
    await accept(two.therapist, 'answer=1.AAAAAAAAAAAA');
    said('an answer that was changed', await shows(two, /cut or changed/), 'refused');
    await accept(two.therapist, invitation);
    said(
      'the invitation itself as an answer',
      await shows(two, /This is an invitation, not an answer/),
      'refused',
    );
    await two.therapist.getByRole('button', { name: 'Make another invitation' }).click();
    await two.therapist.waitForTimeout(500);
    await accept(two.therapist, second);
    said('an answer to an earlier invitation', await shows(two, /answers another invitation/), 'refused');
    await linkUp(two, { by: 'text by hand', delaySeconds: 0 });
    said('after all of these', true, 'the invited one still gets in');
  } finally {
    await third.close();
    await two.close();
  }
}

async function shows({ therapist }: Awaited<ReturnType<typeof openPair>>, words: RegExp): Promise<boolean> {
  await therapist.getByText(words).first().waitFor();
  return true;
}
