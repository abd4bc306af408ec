import type { Browser, Page } from 'playwright-core';
import { join } from 'node:path';
import jsQR from 'jsqr';
import { PNG } from 'pngjs';
import { ensureBuilt, ROOT } from '../bootstrap.mjs';
import { findBrowser, launchBrowser } from '../browser.mjs';
import { serveFolder } from '../static-server.mjs';
import { startInvitationServer } from './invitation-server.ts';

/** A browser's own camera and microphone: a moving disc and a beep, and no question asked. */
export const ANY_CAMERA = ['--use-fake-device-for-media-stream', '--use-fake-ui-for-media-stream'];

/**
 * Browsers hide addresses of the machine behind names that the network's multicast resolves (mDNS). A machine without a network has nobody
 * who answers; so the addresses themselves are given here.
 */
export const PLAIN_ADDRESSES = ['--disable-features=WebRtcHideLocalIpsWithMdns'];

/** Both sides of a consult, each in a browser of its own. */
export interface Pair {
  readonly url: string;
  readonly therapist: Page;
  readonly patient: Page;
  readonly foreignRequests: () => readonly string[];
  readonly violations: () => readonly string[];
  readonly close: () => Promise<void>;
}

/** Waiting for what a busy machine without a GPU takes, milliseconds. */
export const PATIENCE_MS = 90_000;

/** How the texts of an invitation go: through the server, or by hand. */
export type Way = 'link' | 'code' | 'QR code' | 'text by hand' | 'link by hand';

/** Starts two browsers with the built app; patientArgs: the patient's camera; server: with the one that passes invitations on. */
export async function openPair(
  patientArgs: readonly string[] = ANY_CAMERA,
  { server: hasServer = false }: { readonly server?: boolean } = {},
): Promise<Pair> {
  const executablePath = findBrowser();
  if (executablePath === null) throw new Error('This check needs Chrome, Chromium or Edge.');
  ensureBuilt();
  const server = hasServer ? await startInvitationServer() : await serveFolder(join(ROOT, 'dist'));
  const foreign: string[] = [];
  const violations: string[] = [];
  const browsers: Browser[] = [];
  const open = async (args: readonly string[]): Promise<Page> => {
    const browser = await launchBrowser(executablePath, [...args, ...PLAIN_ADDRESSES]);
    browsers.push(browser);
    const context = await browser.newContext({ viewport: { width: 1280, height: 800 } });
    const page = await context.newPage();
    page.setDefaultTimeout(PATIENCE_MS);
    page.on('request', (request) => {
      const url = request.url();
      if (!url.startsWith(server.url) && !/^(blob|data):/.test(url)) foreign.push(url);
    });
    page.on('console', (message) => {
      if (/content security policy/i.test(message.text())) violations.push(message.text());
    });
    page.on('pageerror', (error) => violations.push(String(error)));
    return page;
  };
  return {
    url: server.url,
    therapist: await open(ANY_CAMERA),
    patient: await open(patientArgs),
    foreignRequests: () => foreign,
    violations: () => violations,
    async close() {
      for (const browser of browsers) await browser.close();
      await server.close();
    },
  };
}

/** The therapist makes an invitation: as a link, or the text in it. */
export async function invite(
  { url, therapist }: Pick<Pair, 'url' | 'therapist'>,
  by: 'link by hand' | 'text by hand',
): Promise<string> {
  await beginInvitation({ url, therapist });
  await therapist.getByText(/Waiting for your patient|No server passes/).waitFor();
  const hand = therapist.getByText('By hand, with two texts');
  const link = therapist.getByRole('textbox', { name: 'Link of the invitation' });
  // It stands open where no server passes texts on.
  if (!(await link.isVisible())) await hand.click();
  if (by === 'link by hand') return link.inputValue();
  await therapist.getByText('The invitation as a text to paste').click();
  return therapist.getByRole('textbox', { name: 'Text of the invitation' }).inputValue();
}

/** What the server's way gives the therapist to pass on. */
export async function inviteByServer(
  { url, therapist }: Pick<Pair, 'url' | 'therapist'>,
  by: 'link' | 'code' | 'QR code',
): Promise<string> {
  await beginInvitation({ url, therapist });
  const code = therapist.locator('.code');
  await code.waitFor();
  if (by === 'code') return (await code.innerText()).trim();
  if (by === 'link')
    return therapist.getByRole('textbox', { name: 'Link for your patient', exact: true }).inputValue();
  const picture = await therapist
    .getByRole('img', { name: 'QR code with the link for your patient' })
    .screenshot();
  const { data, width, height } = PNG.sync.read(picture);
  const read = jsQR(new Uint8ClampedArray(data), width, height);
  if (read === null) throw new Error('The QR code could not be read off the screen.');
  return read.data;
}

/** The patient joins by what the server's way gave. */
export async function joinByServer(
  { url, patient }: Pick<Pair, 'url' | 'patient'>,
  given: string,
): Promise<void> {
  await patient.goto('about:blank');
  if (given.startsWith(url)) await patient.goto(given);
  else {
    await patient.goto(`${url}#/consult`);
    await patient.getByRole('button', { name: 'Join with an invitation' }).click();
    // As somebody types it who hears it.
    await patient
      .getByRole('textbox', { name: 'Code or invitation' })
      .fill(given.toLowerCase().replaceAll('-', ' ').replace('0', 'o'));
  }
  await patient.getByRole('button', { name: 'Join', exact: true }).click();
}

async function beginInvitation({ url, therapist }: Pick<Pair, 'url' | 'therapist'>): Promise<void> {
  // Away first: the same address again would leave the page as it is.
  await therapist.goto('about:blank');
  await therapist.goto(`${url}#/consult`);
  await therapist.getByRole('button', { name: 'Invite a patient' }).click();
  await therapist.getByRole('button', { name: 'Make an invitation' }).click();
}

/** The patient answers an invitation. */
export async function answer(
  { url, patient }: Pick<Pair, 'url' | 'patient'>,
  invitation: string,
): Promise<string> {
  if (invitation.startsWith(url)) await patient.goto(invitation);
  else {
    await patient.goto(`${url}#/consult`);
    await patient.getByRole('button', { name: 'Join with an invitation' }).click();
    await patient.getByRole('textbox', { name: 'Code or invitation' }).fill(invitation);
  }
  await patient.getByRole('button', { name: 'Make the answer' }).click();
  return patient.getByRole('textbox', { name: 'Your answer' }).inputValue();
}

/** The therapist takes an answer. */
export async function accept(therapist: Page, text: string): Promise<void> {
  await therapist.getByRole('textbox', { name: 'Answer of your patient' }).fill(text);
  await therapist.getByRole('button', { name: 'Link up' }).click();
}

/** The words that a side is to read aloud. */
export async function phraseOn(page: Page): Promise<string> {
  const shown = page.locator('.phrase');
  await shown.waitFor();
  return (await shown.textContent()) ?? '';
}

/** Both sides link up, up to and including the check phrase. Throws when the words are not the same. */
export async function linkUp(
  pair: Pair,
  { by, delaySeconds }: { readonly by: Way; readonly delaySeconds: number },
): Promise<string> {
  if (by === 'text by hand' || by === 'link by hand') {
    const text = await answer(pair, await invite(pair, by));
    await pair.patient.waitForTimeout(delaySeconds * 1000);
    await accept(pair.therapist, text);
  } else {
    const given = await inviteByServer(pair, by);
    await pair.patient.waitForTimeout(delaySeconds * 1000);
    await joinByServer(pair, given);
  }
  return confirmPhrase(pair);
}

/** Both sides compare their words, aloud as it were. Throws when they are not the same. */
export async function confirmPhrase({
  therapist,
  patient,
}: Pick<Pair, 'therapist' | 'patient'>): Promise<string> {
  const [here, there] = [await phraseOn(therapist), await phraseOn(patient)];
  if (here !== there) throw new Error(`The words differ: "${here}" and "${there}".`);
  for (const page of [therapist, patient])
    await page.getByRole('button', { name: 'They are the same' }).click();
  await patient.getByRole('button', { name: 'Stop everything' }).waitFor();
  await therapist.getByRole('button', { name: 'End the consult' }).waitFor();
  return here;
}
