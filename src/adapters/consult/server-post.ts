import type { MeetingPost, PostEars } from '../../core/consult/meeting-post.ts';
import { CONSULT_LIMITS } from '../../core/consult/limits.ts';
import { readServerMessage } from '../../core/consult/server-messages.ts';

/** The server forgets who has been silent for 90 s. */
const HEARTBEAT_MS = 25_000;
/** A server that cannot be reached is tried again after this, milliseconds. */
const AGAIN_MS = 3_000;

/** A post at the server with this address (ws: or wss:), under a name that others send to. */
export function openServerPost(address: string, place: string, ears: PostEars): MeetingPost {
  return new ServerPost(address, place, ears);
}

class ServerPost implements MeetingPost {
  readonly #address: string;
  readonly #ears: PostEars;
  #socket: WebSocket | null = null;
  #wasOpen = false;
  #isClosed = false;
  #refusals = 0;
  #beat: ReturnType<typeof setInterval> | undefined;
  #again: ReturnType<typeof setTimeout> | undefined;

  constructor(address: string, place: string, ears: PostEars) {
    const url = new URL(address);
    // The token shows the server that it is the same page which comes back to its place.
    url.search = new URLSearchParams({ key: 'forearmed', id: place, token: crypto.randomUUID() }).toString();
    this.#address = url.href;
    this.#ears = ears;
    this.#connect();
  }

  send(to: string, sealed: string): boolean {
    return this.#say({ type: 'OFFER', dst: to, payload: sealed });
  }

  close(): void {
    this.#isClosed = true;
    clearInterval(this.#beat);
    clearTimeout(this.#again);
    this.#socket?.close();
  }

  #say(message: Readonly<Record<string, string>>): boolean {
    if (this.#socket?.readyState !== WebSocket.OPEN) return false;
    this.#socket.send(JSON.stringify(message));
    return true;
  }

  #connect(): void {
    const socket = new WebSocket(this.#address);
    this.#socket = socket;
    socket.addEventListener('open', () => {
      clearInterval(this.#beat);
      this.#beat = setInterval(() => this.#say({ type: 'HEARTBEAT' }), HEARTBEAT_MS);
      // Who comes back to a place that the server still holds is not greeted again.
      if (this.#wasOpen && !this.#isClosed) this.#ears.onOpen();
    });
    socket.addEventListener('message', ({ data }: MessageEvent<unknown>) => {
      if (!this.#isClosed) this.#take(typeof data === 'string' ? data : '');
    });
    socket.addEventListener('close', () => this.#lost());
  }

  #lost(): void {
    clearInterval(this.#beat);
    if (this.#isClosed) return;
    this.#ears.onProblem('no-server');
    this.#again = setTimeout(() => this.#connect(), AGAIN_MS);
  }

  #take(text: string): void {
    const read = readServerMessage(text);
    if (!read.ok) {
      this.#refusals += 1;
      if (this.#refusals >= CONSULT_LIMITS.refusals) this.#stop('refused');
      return;
    }
    const message = read.value;
    if (message.type === 'OPEN') {
      this.#wasOpen = true;
      this.#ears.onOpen();
    } else if (message.type === 'ID-TAKEN') this.#stop('taken');
    else if (message.type === 'ERROR') this.#stop('refused');
    else if (message.type === 'OFFER' || message.type === 'ANSWER')
      this.#ears.onText(message.src, message.payload);
    else this.#ears.onNobody();
  }

  #stop(problem: 'taken' | 'refused'): void {
    this.close();
    this.#ears.onProblem(problem);
  }
}
