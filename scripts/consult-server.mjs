/**
 * `npm run consult:server [-- --port N --host ADDRESS --key FILE --cert FILE]`: serves the built app, and beside it the path by which
 * an invitation and its answer are passed on. It keeps nothing but the names of who is there now, and writes nothing down.
 */
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { parseArgs } from 'node:util';
import { PeerServer } from 'peer';
import { WebSocketServer } from 'ws';
import { ensureReady, giveUp, ROOT, say } from './bootstrap.mjs';
import { filesFrom } from './static-server.mjs';

/** An invitation with all ways, sealed, has some thousand characters. */
const MOST_BYTES = 16_384;
/** An hour of waiting with a beat every 25 s, and as much again. */
const MOST_MESSAGES = 400;
const MOST_THERE = 1_000;

const { values } = parseArgs({
  options: {
    port: { type: 'string', default: process.env['PORT'] ?? '4180' },
    host: { type: 'string', default: '127.0.0.1' },
    key: { type: 'string' },
    cert: { type: 'string' },
  },
});
const { host, key, cert } = values;
if ((key === undefined) !== (cert === undefined)) giveUp('Name both: --key FILE and --cert FILE.');
ensureReady();

const secured =
  key === undefined || cert === undefined
    ? {}
    : { ssl: { key: readFileSync(key, 'utf8'), cert: readFileSync(cert, 'utf8') } };

const app = PeerServer(
  {
    ...secured,
    host,
    port: Number(values.port),
    path: '/consult',
    key: 'forearmed',
    concurrent_limit: MOST_THERE,
    allow_discovery: false,
    // Pages of other addresses learn nothing here.
    corsOptions: { origin: false },
    createWebSocketServer: (options) => {
      const server = new WebSocketServer({ ...options, maxPayload: MOST_BYTES, verifyClient: isOwnPage });
      server.on('connection', limitMessages);
      return server;
    },
  },
  (server) => {
    const address = server.address();
    const port = address !== null && typeof address === 'object' ? address.port : values.port;
    const shown = host === '127.0.0.1' ? 'localhost' : host;
    say(
      `\nForearmed is running at http${key === undefined ? '' : 's'}://${shown}:${port}/ and passes invitations on.\nStop it with Ctrl+C.`,
    );
  },
);
app.use(filesFrom(join(ROOT, 'dist')));
// What somebody sends that is no message is left out; without this it would end the server.
app.on('error', () => undefined);

/** Whether a page of this server's own address asks. Programs that send no origin are let in: nobody is kept out by it. @param {{ origin?: string, req: import('node:http').IncomingMessage }} asked */
function isOwnPage({ origin, req }) {
  if (origin === undefined) return true;
  return URL.canParse(origin) && new URL(origin).host === req.headers.host;
}

/** @param {import('ws').WebSocket} socket */
function limitMessages(socket) {
  let count = 0;
  socket.on('message', () => {
    count += 1;
    if (count > MOST_MESSAGES) socket.terminate();
  });
}
