import { afterEach, describe, expect, it } from 'vitest';
import { KNOCK } from '../../../src/core/consult/meeting.ts';
import { MeetingGuest } from '../../../src/state/meeting-guest.svelte.ts';
import { MeetingHost } from '../../../src/state/meeting-host.svelte.ts';
import { MemoryServer } from '../../helpers/memory-server.ts';

/** Host and guest as they are, with a server in memory and the seal of the app. */
const PLACE = 'ABCD';
const CODE = '23456789';
const open: { close(): void }[] = [];
let ids = 0;

function host(server: MemoryServer) {
  const answers: string[] = [];
  const made = new MeetingHost(server, {
    onKnock: () => Promise.resolve('consult=1.invitation'),
    onAnswer: (text) => answers.push(text),
  });
  open.push(made);
  return { made, answers };
}

function guest(server: MemoryServer) {
  const invitations: string[] = [];
  const nobody: string[] = [];
  const made = new MeetingGuest(server, () => `guest-${String(++ids)}`, {
    onInvitation: (text) => {
      invitations.push(text);
      return Promise.resolve('answer=1.answer');
    },
    onNobody: (why) => nobody.push(why),
  });
  open.push(made);
  return { made, invitations, nobody };
}

afterEach(() => {
  for (const each of open.splice(0)) each.close();
});

describe('two sides at a server', () => {
  it('pass invitation and answer, and the server reads neither', async () => {
    const server = new MemoryServer();
    const [there, here] = [host(server), guest(server)];
    await there.made.open(PLACE, [CODE, 'secret-of-the-link']);
    await here.made.knock({ place: PLACE, secret: CODE }, 'a-while');
    await expect.poll(() => there.answers).toEqual(['answer=1.answer']);
    expect(here.invitations).toEqual(['consult=1.invitation']);
    expect(there.made.strangers).toBe(0);
    expect(server.heard).toHaveLength(3);
    for (const sealed of server.heard) expect(sealed).not.toMatch(/consult|answer|knock/);
  });

  it('let nobody in who has another secret', async () => {
    const server = new MemoryServer();
    const [there, here] = [host(server), guest(server)];
    await there.made.open(PLACE, [CODE]);
    await here.made.knock({ place: PLACE, secret: '2345678A' }, 'a-while');
    await expect.poll(() => there.made.strangers).toBe(1);
    expect([there.answers, here.invitations]).toEqual([[], []]);
  });

  it('take nothing from a server that puts in what it made, changed, or heard before', async () => {
    const server = new MemoryServer();
    const [there, here] = [host(server), guest(server)];
    await there.made.open(PLACE, [CODE]);
    // A text of the guest's comes back to it as if the host had sent it; the rest is changed by a letter.
    server.change = (sealed) =>
      sealed.endsWith('A') ? `${sealed.slice(0, -1)}Q` : `${sealed.slice(0, -1)}A`;
    await here.made.knock({ place: PLACE, secret: CODE }, 'a-while');
    await expect.poll(() => there.made.strangers).toBe(1);
    const sealer = await server.sealerOf({ place: PLACE, secret: CODE });
    server.change = () => server.heard[0] ?? null;
    const evil = server.open('evil-1', {
      onOpen: () => undefined,
      onText: () => undefined,
      onNobody: () => undefined,
      onProblem: () => undefined,
    });
    evil.send(PLACE, await sealer.seal('host', KNOCK));
    await expect.poll(() => server.heard.length).toBeGreaterThan(1);
    expect(there.answers).toEqual([]);
    expect(here.invitations).toEqual([]);
  });

  it('say so when no server is there', async () => {
    const server = new MemoryServer();
    server.isThere = false;
    const [there, here] = [host(server), guest(server)];
    await there.made.open(PLACE, [CODE]);
    await expect.poll(() => there.made.stage).toBe('no-server');
    await here.made.knock({ place: PLACE, secret: CODE }, 'a-while');
    await expect.poll(() => here.nobody).toEqual(['no-server']);
    expect(here.made.isKnocking).toBe(false);
  });

  it('do not share a place with others', async () => {
    const server = new MemoryServer();
    const [first, second] = [host(server), host(server)];
    await first.made.open(PLACE, [CODE]);
    await expect.poll(() => first.made.stage).toBe('waiting');
    await second.made.open(PLACE, [CODE]);
    await expect.poll(() => second.made.stage).toBe('taken');
  });
});
