import { callHostilely } from './hostile-callers.ts';
import { inviteByServer, joinByServer, linkUp, openPair, phraseOn, type Pair } from './pair.ts';

type Said = (what: string, isRight: boolean, found: string) => void;

/** The call is set up by each way of inviting; what the server must not let in stays out. */
export async function eachWay(said: Said): Promise<void> {
  const pair = await openPair(undefined, { server: true });
  try {
    for (const by of ['link', 'code', 'QR code', 'link by hand', 'text by hand'] as const) {
      const words = await linkUp(pair, { by, delaySeconds: 0 });
      said(`linked up by ${by}`, true, `"${words}" on both sides`);
      await leave(pair);
    }
    const { isOtherOriginRefused, isLongRefused } = await callHostilely(pair.url);
    said('the server, called from another origin', isOtherOriginRefused, 'refused');
    said(
      'the server, sent more than a text',
      isLongRefused,
      'refused, after ten texts that are no messages; it goes on',
    );
    await strangers(pair, said);
    await inBetween(pair, said);
  } finally {
    await pair.close();
  }
}

/** A wrong code, a code that was used, and a page that was not invited. */
async function strangers(pair: Pair, said: Said): Promise<void> {
  const { therapist, patient } = pair;
  const code = await inviteByServer(pair, 'code');
  const wrong = code.slice(0, -1) + (code.endsWith('7') ? '8' : '7');
  await joinByServer(pair, wrong);
  await therapist.getByText('Somebody came with another code').waitFor();
  await patient.getByText('Nobody answered to this code').waitFor();
  said('the right place with a wrong letter', true, 'not let in; the therapist sees that somebody tried');

  await joinByServer(pair, code);
  const words = [await phraseOn(therapist), await phraseOn(patient)];
  said('then the right code', words[0] === words[1], words.join(' and '));
  const late = await pair.patient.context().newPage();
  late.setDefaultTimeout(60_000);
  await joinByServer({ url: pair.url, patient: late }, code);
  await late.getByText('Nobody answered to this code').waitFor();
  said('a second caller with a used code', true, 'nobody answers');
  await late.close();
  await leave(pair);
}

/** Somebody who overheard the code answers the therapist, and invites the patient by a code of his own, through the same server. */
async function inBetween(pair: Pair, said: Said): Promise<void> {
  const { url } = pair;
  const between = await openPair();
  try {
    await joinByServer({ url, patient: between.patient }, await inviteByServer(pair, 'code'));
    const own = await inviteByServer({ url, therapist: between.therapist }, 'code');
    await joinByServer(pair, own);
    const [here, there] = [await phraseOn(pair.therapist), await phraseOn(pair.patient)];
    said(
      'somebody who overheard the code',
      here !== there,
      `"${here}" at the therapist, "${there}" at the patient`,
    );
    await pair.therapist.getByRole('button', { name: 'They differ: end it' }).click();
    await pair.therapist.getByText(/because the words were not the same/).waitFor();
  } finally {
    await between.close();
  }
}

async function leave({ therapist, patient }: Pair): Promise<void> {
  for (const page of [patient, therapist]) {
    await page.evaluate(() => sessionStorage.clear());
    await page.goto('about:blank');
  }
}
