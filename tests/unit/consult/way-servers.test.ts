import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { readWayServers } from '../../../src/core/consult/way-servers.ts';

describe('servers that help to find a way', () => {
  it('are read with name and password where they pass packets on', () => {
    expect(readWayServers('')).toEqual({ ok: true, value: [] });
    expect(
      readWayServers(' stun:a.example:3478  turns:b.example:5349?transport=tcp me secret stun:[2001:db8::1]'),
    ).toEqual({
      ok: true,
      value: [
        { urls: 'stun:a.example:3478' },
        { urls: 'turns:b.example:5349?transport=tcp', username: 'me', credential: 'secret' },
        { urls: 'stun:[2001:db8::1]' },
      ],
    });
  });

  it.each([
    ['https://a.example', 'https://a.example'],
    ['stun:a.example/path', 'stun:a.example/path'],
    ['turn:b.example', 'turn:b.example'],
    ['turn:b.example me', 'turn:b.example'],
    ['turn:b.example me stun:a.example', 'turn:b.example'],
    ['stun:a.example and more', 'and'],
    ['stun:a stun:b stun:c stun:d stun:e', 'stun:e'],
  ])('"%s" is refused by its word that is none', (text, problem) => {
    expect(readWayServers(text)).toEqual({ ok: false, problem });
  });

  it('hold nothing but what stands in the text, whatever it is', () => {
    fc.assert(
      fc.property(fc.string(), (text) => {
        const read = readWayServers(text);
        if (read.ok) for (const { urls } of read.value) expect(text).toContain(urls);
        else expect(text).toContain(read.problem);
      }),
    );
  });
});
