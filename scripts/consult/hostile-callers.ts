import { WebSocket } from 'ws';

/** What a hostile caller sends to the server that passes invitations on: none of it is a message. */
const EVIL = [
  'null',
  '{',
  '[]',
  '7',
  '""',
  '{"type":"OFFER"}',
  '{"type":"OFFER","dst":null,"payload":{}}',
  '{"type":"LEAVE","dst":"__proto__"}',
  '{"type":{"toString":1},"dst":["a"]}',
  '\u0000',
];
const WAIT_MS = 3_000;

/** Sends all of it, asks from another origin, and sends more than a message holds. */
export async function callHostilely(
  url: string,
): Promise<{ readonly isOtherOriginRefused: boolean; readonly isLongRefused: boolean }> {
  const address = `${url.replace(/^http/, 'ws')}consult/peerjs?key=forearmed&token=t&id=`;
  const evil = new WebSocket(`${address}evil-1`);
  await settled(evil, 'open');
  for (const text of EVIL) evil.send(text);
  const isOtherOriginRefused = !(await settled(
    new WebSocket(`${address}evil-2`, { origin: 'https://evil.example' }),
    'open',
  ));
  evil.send('x'.repeat(100_000));
  const isLongRefused = await settled(evil, 'close');
  evil.terminate();
  return { isOtherOriginRefused, isLongRefused };
}

/** Whether an event comes before an error, and in time. */
function settled(socket: WebSocket, event: 'open' | 'close'): Promise<boolean> {
  return new Promise((resolve) => {
    const timer = setTimeout(() => resolve(false), WAIT_MS);
    const end = (is: boolean) => () => {
      clearTimeout(timer);
      resolve(is);
    };
    socket.once(event, end(true));
    socket.on('error', event === 'close' ? () => undefined : end(false));
  });
}
