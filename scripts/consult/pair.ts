import type { Browser, Page } from 'playwright-core';
import { join } from 'node:path';
import { ensureBuilt, ROOT } from '../bootstrap.mjs';
import { findBrowser, launchBrowser } from '../browser.mjs';
import { serveFolder } from '../static-server.mjs';

/** A browser's own camera and microphone: a moving disc and a beep, and no question asked. */
const ANY_CAMERA = ['--use-fake-device-for-media-stream', '--use-fake-ui-for-media-stream'];

/**
 * Browsers hide addresses of the machine behind names that the network's multicast resolves (mDNS). A machine without a network has nobody
 * who answers; so the addresses themselves are given here.
 */
const PLAIN_ADDRESSES = ['--disable-features=WebRtcHideLocalIpsWithMdns'];

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
const PATIENCE_MS = 90_000;

/** Starts two browsers with the built app; patientArgs: the patient's camera. */
export async function openPair(patientArgs: readonly string[] = ANY_CAMERA): Promise<Pair> {
  const executablePath = findBrowser();
  if (executablePath === null) throw new Error('This check needs Chrome, Chromium or Edge.');
  ensureBuilt();
  const server = await serveFolder(join(ROOT, 'dist'));
  const foreign: string[] = [];
  const violations: string[] = [];
  const browsers: Browser[] = [];
  const open = async (args: readonly string[]): Promise<Page> => {
    const browser = await launchBrowser(executablePath, [...args, ...PLAIN_ADDRESSES]);
    browsers.push(browser);
    const page = await browser.newPage({ viewport: { width: 1280, height: 800 } });
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
  by: 'link' | 'text',
): Promise<string> {
  // Away first: the same address again would leave the page as it is.
  await therapist.goto('about:blank');
  await therapist.goto(`${url}#/consult`);
  await therapist.getByRole('button', { name: 'Invite a patient' }).click();
  await therapist.getByRole('button', { name: 'Make an invitation' }).click();
  const link = therapist.getByRole('textbox', { name: 'Link of the invitation' });
  if (by === 'link') return link.inputValue();
  await therapist.getByText('The invitation as a text to paste').click();
  return therapist.getByRole('textbox', { name: 'Text of the invitation' }).inputValue();
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
    await patient.getByRole('textbox', { name: 'Invitation of your therapist' }).fill(invitation);
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
  { by, delaySeconds }: { readonly by: 'link' | 'text'; readonly delaySeconds: number },
): Promise<string> {
  const text = await answer(pair, await invite(pair, by));
  await pair.patient.waitForTimeout(delaySeconds * 1000);
  await accept(pair.therapist, text);
  const [here, there] = [await phraseOn(pair.therapist), await phraseOn(pair.patient)];
  if (here !== there) throw new Error(`The words differ: "${here}" and "${there}".`);
  for (const page of [pair.therapist, pair.patient])
    await page.getByRole('button', { name: 'They are the same' }).click();
  await pair.patient.getByRole('button', { name: 'Stop everything' }).waitFor();
  await pair.therapist.getByRole('button', { name: 'End the consult' }).waitFor();
  return here;
}
