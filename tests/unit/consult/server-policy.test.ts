import { afterEach, describe, expect, it, vi } from 'vitest';

/** The policy as it is for a build with this server. */
async function connectSources(server: string | undefined): Promise<string | undefined> {
  vi.resetModules();
  vi.stubEnv('VITE_CONSULT_SERVER', server);
  const { META_POLICY } = await import('../../../scripts/security-policy.mjs');
  return /connect-src ([^;]*)/.exec(META_POLICY)?.[1];
}

afterEach(() => {
  vi.unstubAllEnvs();
  vi.resetModules();
});

describe('what pages may contact', () => {
  it('is their own origin, and beside it that of the one server they were built for', async () => {
    expect(await connectSources(undefined)).toBe("'self'");
    expect(await connectSources('wss://consult.clinic.example:8443/some/path?x=1')).toBe(
      "'self' wss://consult.clinic.example:8443",
    );
  });

  it.each(['*', 'https://a.example', 'wss:', 'wss://a.example; script-src *'])(
    'never widens by what is no such address: "%s"',
    async (server) => {
      await expect(connectSources(server)).rejects.toThrow('VITE_CONSULT_SERVER');
    },
  );
});
