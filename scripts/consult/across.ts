import type { Browser, Page } from 'playwright-core';
import { join } from 'node:path';
import { answerText, readInvitation, takeAnswer } from '../../src/core/consult/invitation.ts';
import { ROOT } from '../bootstrap.mjs';
import { findBrowser, launchBrowser } from '../browser.mjs';
import { ADDRESSES, TURN_NAME, TURN_PASSWORD, type Networks } from './namespaces.ts';
import {
  accept,
  answer,
  ANY_CAMERA,
  confirmPhrase,
  invite,
  inviteByServer,
  joinByServer,
  PATIENCE_MS,
  PLAIN_ADDRESSES,
} from './pair.ts';
import { record } from './recorder.ts';

/** How the two are joined. */
export interface Line {
  readonly by: 'direct' | 'relay';
  readonly isPoor: boolean;
}

/** Both sides of a consult in namespaces of their own, linked up. */
export interface AcrossPair {
  readonly therapist: Page;
  readonly patient: Page;
  readonly urls: { readonly therapist: string; readonly patient: string };
  readonly close: () => Promise<void>;
}

const APP_PORT = 4190;
const TURN_PORT = 3478;
// Not beside the relay’s own: coturn takes the next one too.
const POOR_PORT = 3500;
/** Share of loss, milliseconds, kbit/s. */
const POOR = ['0.05', '200', '300'];
const TSX = [process.execPath, join(ROOT, 'node_modules/tsx/dist/cli.mjs')];
const RELAY = [...TSX, join(ROOT, 'scripts', 'consult', 'lossy-relay.ts')];

/** Opens both browsers and links them up in this way. */
export async function openAcross(
  networks: Networks,
  line: Line,
  patientArgs: readonly string[],
): Promise<AcrossPair> {
  const isPlain = line.by === 'direct' && !line.isPoor;
  networks.setDirect(isPlain);
  const server = await networks.start(
    'between',
    [
      process.execPath,
      join(ROOT, 'scripts', 'consult-server.mjs'),
      '--host',
      '0.0.0.0',
      '--port',
      String(APP_PORT),
    ],
    /running at/,
  );
  const urls = {
    therapist: `http://${ADDRESSES.besideTherapist}:${String(APP_PORT)}/`,
    patient: `http://${ADDRESSES.besidePatient}:${String(APP_PORT)}/`,
  };
  const browsers: Browser[] = [];
  const open = async (side: 'therapist' | 'patient', args: readonly string[]): Promise<Page> => {
    const program = findBrowser();
    if (program === null) throw new Error('This check needs Chrome, Chromium or Edge.');
    const browser = await launchBrowser(networks.wrapper(side, program), [
      ...args,
      ...PLAIN_ADDRESSES,
      // Cameras open on secure pages alone; a namespace has no certificate.
      `--unsafely-treat-insecure-origin-as-secure=${urls[side].slice(0, -1)}`,
    ]);
    browsers.push(browser);
    const context = await browser.newContext({ viewport: { width: 1280, height: 800 } });
    const page = await context.newPage();
    page.setDefaultTimeout(PATIENCE_MS);
    await record(page);
    return page;
  };
  const [therapist, patient] = [await open('therapist', ANY_CAMERA), await open('patient', patientArgs)];
  const relays = [server];
  if (line.isPoor && line.by === 'relay')
    relays.push(
      await networks.start(
        'between',
        [
          ...RELAY,
          `${ADDRESSES.besidePatient}:${String(POOR_PORT)}`,
          `127.0.0.1:${String(TURN_PORT)}`,
          '127.0.0.1',
          ...POOR,
        ],
        /ready/,
      ),
    );
  if (line.by === 'relay') {
    const port = line.isPoor ? POOR_PORT : TURN_PORT;
    await nameTurn(therapist, urls.therapist, `${ADDRESSES.besideTherapist}:${String(TURN_PORT)}`);
    await nameTurn(patient, urls.patient, `${ADDRESSES.besidePatient}:${String(port)}`);
  }
  if (line.by === 'direct' && line.isPoor) {
    const invitation = await invite({ url: urls.therapist, therapist }, 'text by hand');
    const text = await answer({ url: urls.patient, patient }, invitation);
    const led = ledThroughRelay(invitation, text);
    relays.push(
      await networks.start(
        'between',
        [
          ...RELAY,
          `${ADDRESSES.besideTherapist}:${String(POOR_PORT)}`,
          led.to,
          ADDRESSES.besidePatient,
          ...POOR,
        ],
        /ready/,
      ),
    );
    await accept(therapist, led.text);
  } else {
    const code = await inviteByServer({ url: urls.therapist, therapist }, 'code');
    await joinByServer({ url: urls.patient, patient }, code);
  }
  await confirmPhrase({ therapist, patient });
  return {
    therapist,
    patient,
    urls,
    async close() {
      for (const browser of browsers) await browser.close();
      for (const relay of relays) {
        relay.removeAllListeners('exit');
        relay.kill();
      }
    },
  };
}

/** Names the relay in the settings of a side, as its user would. */
async function nameTurn(page: Page, url: string, address: string): Promise<void> {
  await page.goto(`${url}#/consult`);
  await page.getByRole('button', { name: 'Join with an invitation' }).click();
  await page.getByText('Who is contacted for this').click();
  await page
    .getByRole('textbox', { name: 'Servers for finding a way' })
    .fill(`turn:${address} ${TURN_NAME} ${TURN_PASSWORD}`);
  await page.getByRole('button', { name: 'Back to the choice of sides' }).click();
}

/** An answer whose only way leads through the poor relay, and where that must pass on to. */
function ledThroughRelay(invitation: string, text: string): { readonly text: string; readonly to: string } {
  const read = readInvitation(invitation, Date.now());
  if (!read.ok) throw new Error('The invitation was not read.');
  const { id, consult, endsMinutes } = read.value;
  const taken = takeAnswer({ id, consult, endsMs: endsMinutes * 60_000, isUsed: false }, text, Date.now());
  if (!taken.ok) throw new Error('The answer was not read.');
  const { facts } = taken.value;
  const way = facts.candidates
    .map((each) => each.split(' '))
    .find((fields) => fields[2] === 'udp' && fields[4] === ADDRESSES.patient);
  if (way === undefined) throw new Error('The patient has no way over UDP.');
  const led = way.with(4, ADDRESSES.besideTherapist).with(5, String(POOR_PORT));
  return {
    text: answerText({ id, facts: { ...facts, candidates: [led.join(' ')] } }),
    to: `${way[4] ?? ''}:${way[5] ?? ''}`,
  };
}
