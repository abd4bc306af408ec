import type { Fingerprints } from '../../core/consult/check-phrase.ts';
import {
  descriptionOf,
  factsOf,
  fingerprintsOf,
  keepsCertificate,
  type ConnectionFacts,
} from '../../core/consult/connection-facts.ts';
import type {
  LinkChannel,
  LinkEars,
  MediaMessage,
  PeerLink,
  SentMedia,
} from '../../core/consult/peer-link.ts';
import type { WayServer } from '../../core/consult/way-servers.ts';
import { LinePace } from './line-pace.ts';
import { LiveSlot } from './live-slot.ts';

/** Ways to be reached are gathered for this long at most, milliseconds: a network that does not answer would be waited for. */
const GATHER_MS = 4_000;
/** Of a record so many bytes wait in the channel at most: what is said meanwhile is not held up by it. */
const PARCEL_WAITING_BYTES = 32_000;

/** How often the joining side tries the inviting one's ways while its answer is passed on, milliseconds. */
const TRY_MS = 5_000;
/** A channel that is closed sends what waits in it, as long as its connection stays for so long, milliseconds. */
const LAST_WORDS_MS = 1_000;

/** A line over the browser's WebRTC. Nobody but the given servers is asked for a way to the other side. */
export function openRtcLink(
  role: 'inviting' | 'joining',
  ears: LinkEars,
  servers: readonly WayServer[],
): PeerLink {
  return new RtcLink(role, ears, servers);
}

class RtcLink implements PeerLink {
  readonly #role: 'inviting' | 'joining';
  readonly #ears: LinkEars;
  readonly #connection: RTCPeerConnection;
  readonly #channels: Readonly<Record<LinkChannel, RTCDataChannel>>;
  #otherFingerprint: string | null = null;
  readonly #slot: LiveSlot;
  readonly #pace: LinePace;
  #sent: SentMedia = { picture: null, sound: null };
  #isUp = false;
  #trying: ReturnType<typeof setInterval> | undefined;

  constructor(role: 'inviting' | 'joining', ears: LinkEars, servers: readonly WayServer[]) {
    this.#role = role;
    this.#ears = ears;
    const connection = new RTCPeerConnection({ bundlePolicy: 'max-bundle', iceServers: [...servers] });
    this.#connection = connection;
    // Agreed on beforehand: whatever else the other side opens is closed at once.
    this.#channels = {
      record: connection.createDataChannel('record', { negotiated: true, id: 0 }),
      live: connection.createDataChannel('live', {
        negotiated: true,
        id: 1,
        ordered: false,
        maxRetransmits: 0,
      }),
      parcel: connection.createDataChannel('parcel', { negotiated: true, id: 2 }),
    };
    this.#slot = new LiveSlot(this.#channels.live);
    this.#pace = new LinePace(connection, this.#slot, (left) => {
      this.#applySent().catch(() => undefined);
      ears.onLeft(left);
    });
    connection.addEventListener('datachannel', ({ channel }) => channel.close());
    connection.addEventListener('connectionstatechange', () => this.#tellLine());
    for (const name of ['record', 'live', 'parcel'] as const) {
      const channel = this.#channels[name];
      channel.addEventListener('open', () => this.#tellLine());
      channel.addEventListener('close', () => this.#tellLine());
      channel.addEventListener('message', ({ data }: MessageEvent<unknown>) => {
        // Anything but text is passed on as an empty one, which is refused and counted.
        ears.onText(name, typeof data === 'string' ? data : '');
      });
    }
  }

  async invite(): Promise<ConnectionFacts> {
    await this.#connection.setLocalDescription();
    return this.#ownFacts();
  }

  async join(facts: ConnectionFacts): Promise<ConnectionFacts> {
    this.#otherFingerprint = facts.fingerprint;
    // The answer is passed on by hand, which takes minutes. Whoever begins the handshake gives up before that, so the inviting side does,
    // when it has the answer; and ways that were not answered are forgotten, so they are tried again and again.
    const sdp = descriptionOf({ ...facts, setup: 'active', candidates: [] });
    await this.#connection.setRemoteDescription({ type: 'offer', sdp });
    await this.#connection.setLocalDescription();
    this.#trying = setInterval(() => this.#tryWays(facts), TRY_MS);
    this.#tryWays(facts);
    return this.#ownFacts();
  }

  async accept(facts: ConnectionFacts): Promise<void> {
    this.#otherFingerprint = facts.fingerprint;
    await this.#connection.setRemoteDescription({ type: 'answer', sdp: descriptionOf(facts) });
  }

  get fingerprints(): Fingerprints | null {
    const own = fingerprintsOf(this.#connection.localDescription?.sdp ?? '')[0];
    const other = this.#otherFingerprint;
    if (own === undefined || other === null) return null;
    return this.#role === 'inviting' ? { inviting: own, joining: other } : { inviting: other, joining: own };
  }

  get isGone(): boolean {
    return (
      ['failed', 'closed'].includes(this.#connection.connectionState) ||
      Object.values(this.#channels).some(({ readyState }) => readyState === 'closed')
    );
  }

  send(name: LinkChannel, text: string): boolean {
    if (name === 'live') return this.#slot.send(text);
    const channel = this.#channels[name];
    if (channel.readyState !== 'open') return false;
    if (name === 'parcel' && channel.bufferedAmount > PARCEL_WAITING_BYTES) return false;
    try {
      channel.send(text);
      return true;
    } catch {
      // The browser's own queue is full, or the channel has just closed: what matters is sent again after the gap.
      return false;
    }
  }

  async openMedia(): Promise<void> {
    for (const kind of ['audio', 'video']) this.#connection.addTransceiver(kind, { direction: 'sendrecv' });
    await this.#applySent();
    await this.#connection.setLocalDescription();
    this.#tellDescription('offer');
  }

  show(media: SentMedia): void {
    this.#sent = media;
    // A line that closes meanwhile sends nothing anyway.
    this.#applySent().catch(() => undefined);
  }

  holdPicture(ms: number): void {
    for (const receiver of this.#connection.getReceivers())
      if (receiver.track.kind === 'video' && 'jitterBufferTarget' in receiver)
        receiver.jitterBufferTarget = ms === 0 ? null : ms;
  }

  async takeDescription({ type, sdp }: MediaMessage): Promise<boolean> {
    // The inviting side asks, the joining one answers: two questions can never meet.
    const isDue = type === (this.#role === 'inviting' ? 'answer' : 'offer');
    if (!isDue || this.#otherFingerprint === null || !keepsCertificate(sdp, this.#otherFingerprint))
      return false;
    try {
      await this.#connection.setRemoteDescription({ type, sdp });
      if (type === 'offer') {
        for (const transceiver of this.#connection.getTransceivers()) transceiver.direction = 'sendrecv';
        await this.#applySent();
        await this.#connection.setLocalDescription();
        this.#tellDescription('answer');
      }
    } catch {
      return false;
    }
    const tracks = this.#connection.getReceivers().map(({ track }) => track);
    this.#ears.onMedia(tracks.length === 0 ? null : new MediaStream(tracks));
    return true;
  }

  close(): void {
    clearInterval(this.#trying);
    this.#pace.stop();
    for (const channel of Object.values(this.#channels)) channel.close();
    // Nothing is seen or heard from now on, but the last words are let through.
    for (const { sender } of this.#connection.getTransceivers())
      void sender.replaceTrack(null).catch(() => undefined);
    setTimeout(() => this.#connection.close(), LAST_WORDS_MS);
  }

  #tryWays({ candidates, mid }: ConnectionFacts): void {
    for (const candidate of candidates) {
      const way = { candidate: `candidate:${candidate}`, sdpMid: mid };
      // One that this browser cannot use (another network's, another protocol) is passed over.
      this.#connection.addIceCandidate(way).catch(() => undefined);
    }
  }

  #tellLine(): void {
    const isUp =
      this.#connection.connectionState === 'connected' &&
      Object.values(this.#channels).every(({ readyState }) => readyState === 'open');
    if (isUp === this.#isUp) return;
    this.#isUp = isUp;
    clearInterval(this.#trying);
    if (isUp) this.#pace.start();
    else this.#pace.stop();
    this.#ears.onLine(isUp);
  }

  #tellDescription(type: MediaMessage['type']): void {
    const sdp = this.#connection.localDescription?.sdp;
    if (sdp !== undefined) this.#ears.onDescription({ kind: 'media', type, sdp });
  }

  /** Puts the tracks on their ways, where these are there and the line carries them: that needs no new description. */
  async #applySent(): Promise<void> {
    const { picture, sound } = this.#pace.limits;
    for (const { sender, receiver } of this.#connection.getTransceivers()) {
      const isPicture = receiver.track.kind === 'video';
      const wish = isPicture ? this.#sent.picture : this.#sent.sound;
      const track = (isPicture ? picture !== null : sound) ? wish : null;
      if (sender.track !== track) await sender.replaceTrack(track);
      await this.#pace.applyTo(sender, { isPicture, isMeasured: this.#sent.isMeasured ?? false });
    }
  }

  async #ownFacts(): Promise<ConnectionFacts> {
    await gathered(this.#connection);
    const facts = factsOf(this.#connection.localDescription?.sdp ?? '');
    if (facts === null) throw new Error('The browser gave no description that can be passed on.');
    return facts;
  }
}

/** Settles when all ways to be reached are known, or after GATHER_MS. */
function gathered(connection: RTCPeerConnection): Promise<void> {
  return new Promise((resolve) => {
    const done = (): void => {
      clearTimeout(latest);
      connection.removeEventListener('icegatheringstatechange', look);
      resolve();
    };
    const look = (): void => {
      if (connection.iceGatheringState === 'complete') done();
    };
    const latest = setTimeout(done, GATHER_MS);
    connection.addEventListener('icegatheringstatechange', look);
    look();
  });
}
