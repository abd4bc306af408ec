import { spawn } from 'node:child_process';
import { join } from 'node:path';
import { ROOT } from '../bootstrap.mjs';

/** A server that was started. */
export interface InvitationServer {
  readonly url: string;
  /** What it has written until now. */
  readonly written: () => string;
  readonly close: () => void;
}

/** Starts `npm run consult:server` as it stands, on a port of its own. within: a command before it ("ip netns exec ..."). */
export function startInvitationServer(
  port = 0,
  { host = '127.0.0.1', within = [] }: { readonly host?: string; readonly within?: readonly string[] } = {},
): Promise<InvitationServer> {
  const script = join(ROOT, 'scripts', 'consult-server.mjs');
  const [command = process.execPath, ...args] = [
    ...within,
    process.execPath,
    script,
    ...['--port', String(port), '--host', host],
  ];
  const server = spawn(command, args, { stdio: ['ignore', 'pipe', 'inherit'] });
  let written = '';
  return new Promise((resolve, reject) => {
    server.once('exit', (code) => reject(new Error(`The server ended at once, with ${String(code)}.`)));
    server.stdout.on('data', (data: Buffer) => {
      written += data.toString();
      const [, url] = /running at (http\S+)/.exec(written) ?? [];
      if (url !== undefined) resolve({ url, written: () => written, close: () => server.kill() });
    });
  });
}
