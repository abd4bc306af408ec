import { z } from 'zod';
import { CONSULT_LIMITS } from './limits.ts';

/** A way to reach a side (RFC 8839, section 5.1), as its fields; what browsers add to them is left out. */
const CANDIDATE =
  /^([A-Za-z0-9+/]{1,32}) (1|2) (udp|tcp) (\d{1,10}) ([0-9A-Za-z.:-]{1,255}) (\d{1,5}) typ (host|srflx|prflx|relay)(?: raddr [0-9A-Za-z.:-]{1,255} rport \d{1,5})?(?: tcptype (?:active|passive|so))?/i;

/** What one side must know of the other to link up with it: all of a first description that is not the same in every one. */
export const connectionFactsSchema = z.strictObject({
  /** RFC 8842: who begins the DTLS handshake. */
  setup: z.enum(['actpass', 'active', 'passive']),
  /** RFC 8839, section 5.4. */
  user: z.string().regex(/^[A-Za-z0-9+/]{4,256}$/),
  password: z.string().regex(/^[A-Za-z0-9+/]{22,256}$/),
  /** SHA-256 of the certificate, hexadecimal. */
  fingerprint: z.string().regex(/^[0-9a-f]{64}$/),
  mid: z.string().regex(/^[A-Za-z0-9]{1,16}$/),
  candidates: z
    .array(
      z
        .string()
        .max(400)
        .regex(new RegExp(`${CANDIDATE.source}$`, 'i')),
    )
    .max(CONSULT_LIMITS.candidates),
});
export type ConnectionFacts = z.infer<typeof connectionFactsSchema>;

/** The facts in a description that holds data channels alone; null when one of them lacks. */
export function factsOf(sdp: string): ConnectionFacts | null {
  const value = (name: string): string | undefined =>
    new RegExp(`^a=${name}:(.*)$`, 'm').exec(sdp)?.[1]?.trim();
  const candidates = [...sdp.matchAll(/^a=candidate:(.*)$/gm)].flatMap(([, line = '']) => {
    const [known] = CANDIDATE.exec(line.trim()) ?? [];
    return known === undefined ? [] : [known];
  });
  const read = connectionFactsSchema.safeParse({
    setup: value('setup'),
    user: value('ice-ufrag'),
    password: value('ice-pwd'),
    fingerprint: fingerprintsOf(sdp)[0],
    mid: value('mid'),
    candidates: candidates.slice(0, CONSULT_LIMITS.candidates),
  });
  return read.success ? read.data : null;
}

/**
 * The description (RFC 8866, with RFC 8841 for the data channels) that says these facts and nothing else: no line of a text that
 * came by an unknown way reaches the browser as it was.
 */
export function descriptionOf({
  setup,
  user,
  password,
  fingerprint,
  mid,
  candidates,
}: ConnectionFacts): string {
  const pairs = fingerprint.toUpperCase().match(/../g) ?? [];
  return [
    'v=0',
    'o=- 1 1 IN IP4 127.0.0.1',
    's=-',
    't=0 0',
    `a=group:BUNDLE ${mid}`,
    'm=application 9 UDP/DTLS/SCTP webrtc-datachannel',
    'c=IN IP4 0.0.0.0',
    ...candidates.map((candidate) => `a=candidate:${candidate}`),
    `a=ice-ufrag:${user}`,
    `a=ice-pwd:${password}`,
    `a=fingerprint:sha-256 ${pairs.join(':')}`,
    `a=setup:${setup}`,
    `a=mid:${mid}`,
    'a=sctp-port:5000',
    'a=max-message-size:65536',
    '',
  ].join('\r\n');
}

/** All SHA-256 fingerprints of a description, as 64 hexadecimal digits; anything else that is called one stands as it is. */
export function fingerprintsOf(sdp: string): readonly string[] {
  return [...sdp.matchAll(/^a=fingerprint:(.*)$/gim)].map(([, said = '']) => {
    const [, digits] = /^sha-256 ([0-9a-f:]{95})$/i.exec(said.trim()) ?? [];
    return digits?.replaceAll(':', '').toLowerCase() ?? said.trim();
  });
}

/** Whether a later description names the certificate of the first one, and no other. */
export function keepsCertificate(sdp: string, fingerprint: string): boolean {
  const named = fingerprintsOf(sdp);
  return named.length > 0 && named.every((each) => each === fingerprint);
}
