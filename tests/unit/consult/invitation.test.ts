import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  descriptionOf,
  factsOf,
  keepsCertificate,
  type ConnectionFacts,
} from '../../../src/core/consult/connection-facts.ts';
import {
  answerText,
  invitationText,
  newInvitation,
  readInvitation,
  sentInvitation,
  takeAnswer,
} from '../../../src/core/consult/invitation.ts';
import { invitationSentence } from '../../../src/core/feedback/consult-words.ts';

const NOW_MS = Date.UTC(2026, 2, 2, 18);
const MINUTE_MS = 60_000;

/** As Chromium writes it for two data channels, with an address of each kind; the values are invented. */
const SDP = [
  'v=0',
  'o=- 4611731400430051336 2 IN IP4 127.0.0.1',
  's=-',
  't=0 0',
  'a=group:BUNDLE 0',
  'a=extmap-allow-mixed',
  'a=msid-semantic: WMS',
  'm=application 51472 UDP/DTLS/SCTP webrtc-datachannel',
  'c=IN IP4 192.0.2.7',
  'a=candidate:842163049 1 udp 1677729535 192.0.2.7 51472 typ srflx raddr 0.0.0.0 rport 0 generation 0 network-cost 999',
  'a=candidate:2999745851 1 udp 2122260223 8c2a6b1e-1a1f-4b8e-9c0d-2f1e7d3c5b6a.local 51472 typ host generation 0 network-id 1',
  'a=candidate:1 1 tcp 1518280447 2001:db8::1 9 typ host tcptype active generation 0',
  'a=ice-ufrag:x0Yz',
  'a=ice-pwd:aB3dE6gH9jK2mN5pQ8rS1tU4',
  'a=ice-options:trickle',
  `a=fingerprint:sha-256 ${Array.from({ length: 32 }, (_, index) => (index * 7).toString(16).padStart(2, '0').toUpperCase()).join(':')}`,
  'a=setup:actpass',
  'a=mid:0',
  'a=sctp-port:5000',
  'a=max-message-size:262144',
  '',
].join('\r\n');

function facts(): ConnectionFacts {
  const found = factsOf(SDP);
  if (found === null) throw new Error('no facts');
  return found;
}

const IDS = { id: 'invitation-1', consult: 'consult-1' };
const state = newInvitation(IDS, NOW_MS);
const text = invitationText(sentInvitation(state, facts()));
const answer = answerText({ id: IDS.id, facts: { ...facts(), setup: 'active' } });

describe('the facts of a description', () => {
  it('are found, and say the same when put together again', () => {
    expect(facts().candidates).toHaveLength(3);
    expect(factsOf(descriptionOf(facts()))).toEqual(facts());
  });

  it('let no line through that is none of them', () => {
    const evil = { ...facts(), user: 'abcd\r\na=candidate:evil' };
    expect(() => invitationText({ ...sentInvitation(state, facts()), facts: evil })).toThrow();
    const more = SDP.replace('a=mid:0', 'a=mid:0\r\na=fingerprint:sha-256 00\r\na=crypto:1 something');
    expect(descriptionOf(factsOf(more) ?? facts())).not.toMatch(/crypto/);
  });

  it('another certificate in a later description is noticed, beside the first one as well', () => {
    const { fingerprint } = facts();
    expect(keepsCertificate(SDP, fingerprint)).toBe(true);
    const other = SDP.replace('fingerprint:sha-256 00', 'fingerprint:sha-256 01');
    expect(keepsCertificate(other, fingerprint)).toBe(false);
    expect(keepsCertificate(`${SDP}a=fingerprint:sha-1 00:11\r\n`, fingerprint)).toBe(false);
    expect(keepsCertificate('v=0\r\n', fingerprint)).toBe(false);
  });
});

describe('an invitation', () => {
  it('comes back as it was, as a text, a fragment and a link, with line breaks put in on its way', () => {
    const value = sentInvitation(state, facts());
    const broken = text.replace(/(.{60})/g, '$1\n');
    for (const each of [text, `#${text}`, `https://example.org/app/#${text}`, broken])
      expect(readInvitation(each, NOW_MS)).toEqual({ ok: true, value });
  });

  it('is short enough for a QR code that a telephone reads', () => {
    expect(`https://example.org/forearmed/#${text}`.length).toBeLessThan(858);
    process.stdout.write(`invitation ${text.length} characters, answer ${answer.length}\n`);
  });

  it('with any one character changed is refused with a sentence, or is the same (bits behind the last byte)', () => {
    fc.assert(
      fc.property(
        fc.integer({ min: 0, max: text.length - 1 }),
        fc.constantFrom(...'abcXYZ019-_.=#'),
        (at, letter) => {
          fc.pre(text[at] !== letter && letter !== '#');
          const read = readInvitation(text.slice(0, at) + letter + text.slice(at + 1), NOW_MS);
          if (read.ok) expect(read.value).toEqual(sentInvitation(state, facts()));
          else expect(invitationSentence(read.problem)).toMatch(/^This .*\.$/);
        },
      ),
      { numRuns: 300 },
    );
  });

  it('ends after an hour on both sides', () => {
    expect(readInvitation(text, NOW_MS + 59 * MINUTE_MS).ok).toBe(true);
    expect(readInvitation(text, NOW_MS + 61 * MINUTE_MS)).toEqual({ ok: false, problem: 'ended' });
    expect(takeAnswer(state, answer, NOW_MS + 59 * MINUTE_MS).ok).toBe(true);
    expect(takeAnswer(state, answer, NOW_MS + 61 * MINUTE_MS)).toEqual({ ok: false, problem: 'ended' });
  });

  it('of which somebody says that it never ends is refused', () => {
    const forged = invitationText({ ...sentInvitation(state, facts()), endsMinutes: 900_000_000 });
    expect(readInvitation(forged, NOW_MS)).toEqual({ ok: false, problem: 'damaged' });
  });

  it('holds for one answer, and only for one to itself', () => {
    const first = takeAnswer(state, answer, NOW_MS);
    if (!first.ok) throw new Error('refused');
    expect(first.value.facts.setup).toBe('active');
    expect(takeAnswer(first.value.state, answer, NOW_MS)).toEqual({ ok: false, problem: 'used' });
    const other = answerText({ id: 'invitation-0', facts: facts() });
    expect(takeAnswer(state, other, NOW_MS)).toEqual({ ok: false, problem: 'other-invitation' });
  });

  it('and its answer are told apart', () => {
    expect(readInvitation(answer, NOW_MS)).toEqual({ ok: false, problem: 'answer-not-invitation' });
    expect(takeAnswer(state, text, NOW_MS)).toEqual({ ok: false, problem: 'invitation-not-answer' });
    expect(readInvitation('hello', NOW_MS)).toEqual({ ok: false, problem: 'not-one' });
    expect(readInvitation(text.replace('=1.', '=2.'), NOW_MS)).toEqual({ ok: false, problem: 'newer' });
  });

  it('that unpacks to far more than one holds is refused', () => {
    expect(readInvitation(`consult=1.${'A'.repeat(9000)}`, NOW_MS)).toEqual({
      ok: false,
      problem: 'damaged',
    });
  });
});
