/**
 * `tsx scripts/consult/lossy-relay.ts LISTEN TO [BIND] LOSS DELAY_MS KBIT_PER_S`: passes UDP packets between whoever sends to LISTEN
 * (ADDRESS:PORT) and TO, both ways, with loss (share), delay and a limited rate. It stands for a poor line in tests; each sender has a
 * port of its own at TO's side, from the address BIND.
 */
import { createSocket, type Socket } from 'node:dgram';

/** What a poor line does in each direction. */
interface PoorLine {
  readonly lossShare: number;
  readonly delayMs: number;
  readonly kbitPerSecond: number;
}

/** A router keeps about so much before it drops, milliseconds of the line's rate. */
const QUEUE_MS = 300;

/** One direction: what goes in comes out later, or not at all. */
function direction({
  lossShare,
  delayMs,
  kbitPerSecond,
}: PoorLine): (bytes: number, pass: () => void) => void {
  let freeAtMs = 0;
  return (bytes, pass) => {
    const nowMs = performance.now();
    const beginsMs = Math.max(nowMs, freeAtMs);
    if (Math.random() < lossShare || beginsMs - nowMs > QUEUE_MS) return;
    // 28 bytes of IP and UDP before each packet count as well.
    freeAtMs = beginsMs + ((bytes + 28) * 8) / kbitPerSecond;
    setTimeout(pass, freeAtMs - nowMs + delayMs);
  };
}

const [listen = '', to = '', bind = '', loss = '', delay = '', rate = ''] = process.argv.slice(2);
const [listenAddress = '', listenPort = ''] = listen.split(':');
const [toAddress = '', toPort = ''] = to.split(':');
const line = { lossShare: Number(loss), delayMs: Number(delay), kbitPerSecond: Number(rate) };
// All senders share the line.
const [out, back] = [direction(line), direction(line)];
const ways = new Map<string, Socket>();

const front = createSocket('udp4');
front.on('message', (packet, { address, port }) => {
  const name = `${address}:${String(port)}`;
  let way = ways.get(name);
  if (way === undefined) {
    way = createSocket('udp4');
    way.bind(0, bind);
    way.on('message', (answer) => back(answer.length, () => front.send(answer, port, address)));
    way.on('error', () => undefined);
    ways.set(name, way);
  }
  const passOn = way;
  out(packet.length, () => passOn.send(packet, Number(toPort), toAddress));
});
front.bind(Number(listenPort), listenAddress, () => console.log('ready'));
