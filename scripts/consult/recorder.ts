import type { Page } from 'playwright-core';
import { z } from 'zod';
import { liveMessageSchema } from '../../src/core/consult/messages.ts';

/** Runs in the page before its own scripts, as it stands here: what comes on the live channel, and what changes on the screen. */
const IN_PAGE = `
  const seen = (window.consultSeen = { live: [], count: [], cue: [], asked: [] });
  const nowMs = () => performance.timeOrigin + performance.now();
  const make = RTCPeerConnection.prototype.createDataChannel;
  let connection = null;
  window.consultWay = async () => {
    const stats = [...(await connection.getStats()).values()];
    const pair = stats.find(({ type, nominated, state }) => type === 'candidate-pair' && nominated && state === 'succeeded');
    const kinds = [pair?.localCandidateId, pair?.remoteCandidateId].map((id) => stats.find((each) => each.id === id)?.candidateType);
    return kinds.includes('relay') ? 'relay' : kinds.join('');
  };
  RTCPeerConnection.prototype.createDataChannel = function (label, init) {
    connection = this;
    const channel = make.call(this, label, init);
    if (label === 'live')
      channel.addEventListener('message', ({ data }) => seen.live.push({ atMs: nowMs(), text: data }));
    return channel;
  };
  document.addEventListener('click', ({ target }) => {
    const words = target instanceof Element ? target.closest('button')?.textContent?.trim() : undefined;
    if (words) seen.asked.push({ atMs: nowMs(), text: words });
  }, true);
  const look = (name, selector) => {
    const text = document.querySelector(selector)?.textContent?.replace(/\\s+/g, ' ').trim() ?? '';
    if (text !== (seen[name].at(-1)?.text ?? '')) seen[name].push({ atMs: nowMs(), text });
  };
  setInterval(() => { look('count', '.numbers > :last-child .digits'); look('cue', '.room .cue'); }, 20);
`;

const momentsSchema = z.array(z.object({ atMs: z.number(), text: z.string() }));
const seenSchema = z.object({
  live: momentsSchema,
  count: momentsSchema,
  cue: momentsSchema,
  asked: momentsSchema,
});
export type Seen = z.infer<typeof seenSchema>;

/** From now on everything that a page opens is recorded. */
export function record(page: Page): Promise<unknown> {
  return page.addInitScript({ content: IN_PAGE });
}

/** What was seen in a page since it was loaded. */
export async function seenIn(page: Page): Promise<Seen> {
  return seenSchema.parse(await page.evaluate('window.consultSeen'));
}

/** The live messages, each with when it came. */
export function liveIn({ live }: Seen) {
  return live.map(({ atMs, text }) => ({ atMs, message: liveMessageSchema.parse(JSON.parse(text)) }));
}
