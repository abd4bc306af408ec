import {
  limitsOf,
  newQuality,
  stepQuality,
  type LeftOut,
  type LineLimits,
  type LineQuality,
  type LineSample,
} from '../../core/consult/line-quality.ts';
import { FIT_LIMITS } from '../../core/pose/fit-limits.ts';
import type { LiveSlot } from './live-slot.ts';

const SAMPLE_MS = 1_000;
/** A received picture is measured at the lowest rate that live measuring is fitted to: more would only make each of them coarser. */
const MEASURED_HZ = Math.min(...FIT_LIMITS.ratesHz);
/** The other side tells of losses every second or two, at most every five (RFC 3550, section 6.2). */
const TOLD_MS = 6_000;

/** Looks at what a connection carries once a second, and says what may be sent. */
export class LinePace {
  readonly #connection: RTCPeerConnection;
  readonly #slot: LiveSlot;
  readonly #onChange: (left: LeftOut) => void;
  #quality: LineQuality = newQuality(0);
  #sent = { bytes: 0, atSeconds: 0 };
  #timer: ReturnType<typeof setInterval> | undefined;

  constructor(connection: RTCPeerConnection, slot: LiveSlot, onChange: (left: LeftOut) => void) {
    this.#connection = connection;
    this.#slot = slot;
    this.#onChange = onChange;
  }

  get limits(): LineLimits {
    return limitsOf(this.#quality);
  }

  start(): void {
    clearInterval(this.#timer);
    // What is known of the line stays; how long it is known begins anew.
    this.#quality = { ...this.#quality, beganSeconds: performance.now() / 1000, bad: 0 };
    this.#timer = setInterval(() => void this.#look(), SAMPLE_MS);
  }

  stop(): void {
    clearInterval(this.#timer);
  }

  /** Tells a sender how much it may send. */
  async applyTo(
    sender: RTCRtpSender,
    { isPicture, isMeasured }: { readonly isPicture: boolean; readonly isMeasured: boolean },
  ): Promise<void> {
    const { picture } = this.limits;
    const parameters = sender.getParameters();
    const [encoding] = parameters.encodings;
    // Before the first description there is nothing to be told.
    if (encoding === undefined) return;
    if (!isPicture) encoding.priority = 'high';
    else if (picture !== null) {
      encoding.priority = isMeasured ? 'high' : 'very-low';
      encoding.maxBitrate = picture.maxKbps * 1000;
      encoding.scaleResolutionDownBy = picture.scaleDownBy;
      encoding.maxFramerate = isMeasured ? Math.min(picture.maxHz, MEASURED_HZ) : picture.maxHz;
      // How a movement goes is seen by its rate rather than by its detail; of what is measured the joints must be found.
      parameters.degradationPreference = isMeasured ? 'maintain-resolution' : 'maintain-framerate';
    }
    // A browser that does not know one of these leaves the picture as it is.
    await sender.setParameters(parameters).catch(() => undefined);
  }

  async #look(): Promise<void> {
    const sample = await this.#sample().catch(() => null);
    if (sample === null) return;
    const before = this.#quality;
    this.#quality = stepQuality(before, sample);
    if (this.#quality.rung !== before.rung) this.#onChange(this.limits.left);
  }

  async #sample(): Promise<LineSample> {
    let availableKbps: number | null = null;
    let roundTripMs: number | null = null;
    let lossShare: number | null = null;
    let bytes = 0;
    let isMachineSlow = false;
    const told = await this.#connection.getStats();
    for (const each of told.values()) {
      const stats: unknown = each;
      if (typeof stats !== 'object' || stats === null || !('type' in stats)) continue;
      const figure = (name: string): number | null => {
        const value: unknown = Reflect.get(stats, name);
        return typeof value === 'number' ? value : null;
      };
      if (stats.type === 'outbound-rtp') {
        bytes += figure('bytesSent') ?? 0;
        isMachineSlow ||= Reflect.get(stats, 'qualityLimitationReason') === 'cpu';
      }
      if (stats.type === 'candidate-pair' && Reflect.get(stats, 'nominated') === true) {
        availableKbps = scaled(figure('availableOutgoingBitrate'), 1 / 1000) ?? availableKbps;
        roundTripMs = scaled(figure('currentRoundTripTime'), 1000) ?? roundTripMs;
      }
      const ageMs = performance.timeOrigin + performance.now() - (figure('timestamp') ?? 0);
      // What is sent no more is told about no more: its last figure stands there for ever.
      if (stats.type === 'remote-inbound-rtp' && ageMs <= TOLD_MS)
        lossShare = Math.max(lossShare ?? 0, figure('fractionLost') ?? 0);
    }
    const { waitingBytes } = this.#slot;
    const before = this.#sent;
    const atSeconds = performance.now() / 1000;
    this.#sent = { bytes, atSeconds };
    const sentKbps = ((bytes - before.bytes) * 8) / 1000 / Math.max(0.1, atSeconds - before.atSeconds);
    return { atSeconds, availableKbps, sentKbps, isMachineSlow, lossShare, roundTripMs, waitingBytes };
  }
}

function scaled(value: number | null, by: number): number | null {
  return value === null ? null : value * by;
}
