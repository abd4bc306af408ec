import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { sealerOf } from '../../../src/adapters/consult/sealed-text.ts';
import { CONSULT_LIMITS } from '../../../src/core/consult/limits.ts';
import { meetingCode, meetingLink, newMeeting, readMeeting } from '../../../src/core/consult/meeting.ts';
import {
  readServerMessage,
  serverMessageSchema,
  type ServerMessage,
} from '../../../src/core/consult/server-messages.ts';
import { mutated } from '../../faults/mutate.ts';
import { seededRandom } from '../../helpers/seeded-random.ts';

const chance = fc
  .uint8Array({ minLength: 32, maxLength: 32 })
  .map((bytes) => [...bytes].map((byte) => byte.toString(16).padStart(2, '0')).join(''));

describe('a meeting', () => {
  it('comes back from its code, however that is typed, and from its link', () => {
    fc.assert(
      fc.property(chance, (bytes) => {
        const meeting = newMeeting(bytes);
        const byCode = { place: meeting.place, secret: meeting.codeSecret };
        const code = meetingCode(meeting);
        expect(code).toMatch(/^[0-9A-HJKMNP-TV-Z]{4}(-[0-9A-HJKMNP-TV-Z]{4}){2}$/);
        expect(readMeeting(code)).toEqual(byCode);
        const typed = code.toLowerCase().replaceAll('-', ' ').replaceAll('0', 'o').replaceAll('1', 'l');
        expect(readMeeting(` ${typed} `)).toEqual(byCode);
        const byLink = { place: meeting.place, secret: meeting.linkSecret };
        expect(readMeeting(`https://clinic.example/#${meetingLink(meeting)}`)).toEqual(byLink);
      }),
    );
  });

  it.each(['', 'ABCD-EFGH-JKM', 'ABCD-EFGH-JKMNP', 'ABCD-EFGH-JKMU', '#consult=1.AAAA', '#consult=2.ABCD12'])(
    'is not found in "%s"',
    (text) => {
      expect(readMeeting(text)).toBeNull();
    },
  );

  it('has secrets of all letters, so that each is worth five bits', () => {
    const random = seededRandom(3);
    const letters = new Map<string, number>();
    for (let each = 0; each < 2_000; each++) {
      const bytes = Array.from({ length: 32 }, () => Math.floor(random() * 256));
      const { codeSecret } = newMeeting(bytes.map((byte) => byte.toString(16).padStart(2, '0')).join(''));
      for (const letter of codeSecret) letters.set(letter, (letters.get(letter) ?? 0) + 1);
    }
    expect(letters.size).toBe(32);
    // 16,000 letters over 32: 500 each, with a standard deviation of 22.
    for (const count of letters.values()) expect(Math.abs(count - 500)).toBeLessThan(5 * 22);
  });
});

describe('what two sides seal', () => {
  const meeting = { place: 'ABCD', secret: '23456789' };

  it('is opened by the same secret, and by nobody with another one, at another place, or as the other side', async () => {
    const sealer = await sealerOf(meeting);
    const sealed = await sealer.seal('guest', 'answer=1.ÄÖ');
    expect(sealed).toMatch(/^[A-Za-z0-9_-]+$/);
    expect(await sealer.unseal('guest', sealed)).toBe('answer=1.ÄÖ');
    expect(await sealer.unseal('host', sealed)).toBeNull();
    expect(await (await sealerOf({ ...meeting, secret: '2345678A' })).unseal('guest', sealed)).toBeNull();
    expect(await (await sealerOf({ ...meeting, place: 'ABCE' })).unseal('guest', sealed)).toBeNull();
    expect(await sealer.seal('guest', 'answer=1.ÄÖ')).not.toBe(sealed);
  });

  it('is refused when a letter of it changed, or it is anything else', async () => {
    const sealer = await sealerOf(meeting);
    const sealed = await sealer.seal('host', 'consult=1.abc');
    for (let at = 0; at < sealed.length; at += 3) {
      const other = sealed[at] === 'A' ? 'B' : 'A';
      expect(await sealer.unseal('host', sealed.slice(0, at) + other + sealed.slice(at + 1))).toBeNull();
    }
    for (const text of ['', 'A', '=', 'ä', '\u0000', 'A'.repeat(30)])
      expect(await sealer.unseal('host', text)).toBeNull();
  });

  it('fits into what the server may pass on, with the longest invitation there is', async () => {
    const sealer = await sealerOf(meeting);
    const sealed = await sealer.seal('host', 'x'.repeat(CONSULT_LIMITS.invitationCharacters));
    expect(sealed.length).toBeLessThanOrEqual(CONSULT_LIMITS.sealedCharacters);
  });
});

describe('messages of the server', () => {
  const GOOD: readonly ServerMessage[] = [
    { type: 'OPEN' },
    { type: 'ID-TAKEN', payload: { msg: 'ID is taken' } },
    { type: 'ERROR', payload: { msg: 'Invalid key provided' } },
    { type: 'OFFER', src: 'abcd-1234', dst: 'ABCD', payload: 'AAAA_-' },
    { type: 'EXPIRE', src: 'ABCD', dst: 'abcd-1234' },
  ];

  it('come back as they were', () => {
    for (const message of GOOD)
      expect(readServerMessage(JSON.stringify(message))).toEqual({ ok: true, value: message });
  });

  it('10,000 mutated ones are either good by the schema or refused, and none throws', () => {
    const random = seededRandom(17);
    const counts = { taken: 0, refused: 0 };
    for (let each = 0; each < 10_000; each++) {
      const { text } = mutated(GOOD[each % GOOD.length], random);
      const read = readServerMessage(text);
      if (read.ok) expect(serverMessageSchema.safeParse(read.value).success).toBe(true);
      counts[read.ok ? 'taken' : 'refused'] += 1;
    }
    expect(counts.refused).toBeGreaterThan(7_000);
    process.stdout.write(
      `10,000 mutated messages of the server: ${counts.refused} refused, ${counts.taken} still good\n`,
    );
  });

  it.each([
    ['what is no message', 'hello', 'not-read'],
    ['another type', '{"type":"CANDIDATE","src":"abcd","dst":"abcd","payload":"A"}', 'not-read'],
    [
      'a description that is not sealed',
      '{"type":"OFFER","src":"abcd","dst":"abcd","payload":{"sdp":"v=0"}}',
      'not-read',
    ],
    ['more than is ever passed on', `{"type":"OPEN","x":"${'y'.repeat(20_000)}"}`, 'too-long'],
  ])('refuse %s', (_what, text, problem) => {
    expect(readServerMessage(text)).toEqual({ ok: false, problem });
  });
});
