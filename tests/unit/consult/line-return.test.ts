import { afterEach, describe, expect, it } from 'vitest';
import { readTicket, type ReturnTicket } from '../../../src/core/consult/return-ticket.ts';
import type { ConsultSide, EntryContent } from '../../../src/core/consult/messages.ts';
import { ConsultLine } from '../../../src/state/consult-line.svelte.ts';
import { LineReturn } from '../../../src/state/line-return.svelte.ts';
import { MemoryLine } from '../../helpers/memory-line.ts';
import { MemoryServer } from '../../helpers/memory-server.ts';

/** Both sides' lines and returns as they are, over a line and a server in memory. */
const NOW_MS = Date.parse('2026-03-02T17:05:09.250Z');
const opened: { line: ConsultLine; way: LineReturn }[] = [];
let ids = 0;

function page(
  side: ConsultSide,
  memory: MemoryLine,
  server: MemoryServer,
  ticket: { now: ReturnTicket | null },
) {
  const entries: EntryContent[] = [];
  const parts = {
    openLink: memory.side((++ids).toString(16).padStart(64, '0')),
    openFaceAndVoice: () => Promise.resolve({ ok: false, problem: 'no-camera' } as const),
    hasVoice: () => false,
    nowSeconds: () => performance.now() / 1000,
    moment: () => '2026-03-02T18:05:09.250+01:00',
    newId: () => `some-page-${String(++ids)}`,
    newNonce: () => (++ids).toString(16).padStart(64, 'a'),
    meetings: server,
    tickets: {
      load: () => ticket.now,
      save: (kept: ReturnTicket | null) => {
        ticket.now = kept;
      },
    },
  };
  const line = new ConsultLine(side, parts, {
    onEntry: (content) => entries.push(content),
    onLive: () => undefined,
    onOtherMedia: () => undefined,
    onBroken: () => undefined,
    onJoined: () => undefined,
    onParcel: () => null,
    onParcelKept: () => undefined,
    onEnd: () => Promise.resolve(),
    onGone: () => undefined,
  });
  const way = new LineReturn(side, line, parts);
  line.returnEars = {
    onJoined: () => {
      if (side === 'therapist') way.offer();
    },
    onReturnWay: (meeting) => way.take(meeting),
    onEnd: () => way.end(),
  };
  const made = { line, way, entries };
  opened.push(made);
  return made;
}

async function joined() {
  const [memory, server] = [new MemoryLine(), new MemoryServer()];
  const tickets = { therapist: { now: null }, patient: { now: null } } as Record<
    ConsultSide,
    { now: ReturnTicket | null }
  >;
  const therapist = page('therapist', memory, server, tickets.therapist);
  const patient = page('patient', memory, server, tickets.patient);
  const inviting = therapist.line.open('inviting', 'consult-1');
  const joining = patient.line.open('joining', 'consult-1');
  therapist.line.connect(30);
  patient.line.connect(30);
  await inviting.accept(await joining.join(await inviting.invite()));
  memory.setUp(true);
  memory.settle();
  therapist.line.sayPhrase(true);
  patient.line.sayPhrase(true);
  memory.settle();
  return { memory, server, tickets, therapist, patient };
}

/** The line delivers, until both are joined. */
async function bothJoined(memory: MemoryLine, ...lines: ConsultLine[]): Promise<void> {
  await expect
    .poll(
      () => {
        memory.settle();
        return lines.map(({ state }) => state.stage);
      },
      { timeout: 15_000, interval: 50 },
    )
    .toEqual(lines.map(() => 'joined'));
}

afterEach(() => {
  for (const { line, way } of opened.splice(0)) {
    line.close();
    way.end();
  }
});

describe('a consult whose page was loaded again', () => {
  it.each(['patient', 'therapist'] as const)(
    'goes on by itself for the %s, and no words are compared again',
    async (lost) => {
      const { memory, server, tickets, ...sides } = await joined();
      const kept = readTicket(tickets[lost].now, NOW_MS);
      if (kept === null) throw new Error('no ticket was kept');
      const stays = lost === 'patient' ? sides.therapist : sides.patient;
      memory.setUp(false);
      sides[lost].line.close();
      tickets[lost].now = kept;
      expect(stays.line.state.stage).toBe('broken');
      const again = page(lost, memory, server, tickets[lost]);
      again.way.resume(kept);
      await bothJoined(memory, stays.line, again.line);
      const words = { what: 'note', words: 'Here again' } as const;
      const said = { what: 'pain-answered', pain: 2 } as const;
      again.line.add(lost === 'patient' ? said : words);
      memory.settle();
      expect(stays.entries.at(-1)).toEqual(lost === 'patient' ? said : words);
      expect([stays.line.refusals.latest, again.line.refusals.latest]).toEqual([null, null]);
    },
    20_000,
  );

  it('is not gone back into with a ticket that is old, of the future, or changed', async () => {
    const { tickets } = await joined();
    const kept = tickets.patient.now;
    expect(readTicket(kept, NOW_MS)).toEqual(kept);
    expect(readTicket(kept, NOW_MS + 31 * 60_000)).toBeNull();
    expect(readTicket(kept, NOW_MS - 1)).toBeNull();
    expect(readTicket({ ...kept, place: 'ABCD' }, NOW_MS)).toBeNull();
    expect(readTicket(null, NOW_MS)).toBeNull();
  });

  it('forgets its ticket when the consult ends', async () => {
    const { memory, tickets, patient } = await joined();
    expect(tickets.therapist.now).not.toBeNull();
    patient.line.end();
    memory.settle();
    expect([tickets.therapist.now, tickets.patient.now]).toEqual([null, null]);
  });
});
