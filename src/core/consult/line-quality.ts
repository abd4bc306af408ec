/** What is left out of picture and sound because the line is poor: figures come first, then sound, then the picture. */
export const LEFT_OUT = ['none', 'smaller', 'picture', 'picture-and-sound'] as const;
export type LeftOut = (typeof LEFT_OUT)[number];

/** What the browser says of a line at a moment; null for what it does not say. */
export interface LineSample {
  /** Of a clock that only rises. */
  readonly atSeconds: number;
  /** What the way to the other side is held to carry. */
  readonly availableKbps: number | null;
  /** Picture and sound as they are sent: where that is little, nothing is known of a line that would carry more. */
  readonly sentKbps: number | null;
  /** The browser sends a lesser picture because this machine is too busy: then little is known of the line. */
  readonly isMachineSlow: boolean;
  /** Packets of picture and sound that did not come, 0 to 1. */
  readonly lossShare: number | null;
  readonly roundTripMs: number | null;
  /** Figures that wait to be sent. */
  readonly waitingBytes: number;
}

/** How much of a picture may be sent. */
interface PictureLimit {
  readonly maxKbps: number;
  readonly scaleDownBy: number;
  readonly maxHz: number;
}

/** What may be sent. */
export interface LineLimits {
  readonly left: LeftOut;
  readonly picture: PictureLimit | null;
  readonly sound: boolean;
}

interface Rung extends LineLimits {
  /** Below this the next rung is gone to. Figures and joints take about 100, sound 40; the rest is the least of such a picture. */
  readonly needKbps: number;
}

/** Chosen for this tool, no source. */
const RUNGS: readonly Rung[] = [
  { left: 'none', picture: { maxKbps: 1200, scaleDownBy: 1, maxHz: 30 }, sound: true, needKbps: 500 },
  { left: 'smaller', picture: { maxKbps: 250, scaleDownBy: 2, maxHz: 15 }, sound: true, needKbps: 280 },
  { left: 'smaller', picture: { maxKbps: 100, scaleDownBy: 4, maxHz: 8 }, sound: true, needKbps: 200 },
  { left: 'picture', picture: null, sound: true, needKbps: 0 },
  { left: 'picture-and-sound', picture: null, sound: false, needKbps: 0 },
];

/** Chosen for this tool, no source, unless said otherwise. */
const QUALITY_LIMITS = {
  /** Browsers begin with a low guess of what a line carries, and learn for some seconds. */
  learnSeconds: 8,
  /** A line is filled when so much of what it carries is sent. */
  filledShare: 0.6,
  /** More lost packets than this is what congestion control takes for an overfull line (10 %: RFC 8698 and others, from memory). */
  badLossShare: 0.1,
  goodLossShare: 0.08,
  badRoundTripMs: 1_200,
  goodRoundTripMs: 800,
  /** Figures are some hundred bytes each: more than a few wait. */
  badWaitingBytes: 2_500,
  /** So many bad moments one after the other lead a rung down. */
  badMoments: 3,
  /** A line must carry so much more than a rung needs before it is gone up to. */
  headroom: 1.3,
  /** Good for so long before a rung up; twice as long after each time that it was too much. */
  waitSeconds: 10,
  longestWaitSeconds: 160,
  /** Too much, when it went down again within this. */
  trialSeconds: 20,
} as const;

/** Where a line stands. */
export interface LineQuality {
  readonly rung: number;
  readonly beganSeconds: number;
  readonly changedSeconds: number;
  /** Bad moments one after the other. */
  readonly bad: number;
  readonly goodSinceSeconds: number | null;
  readonly waitSeconds: number;
  readonly wentUp: boolean;
}

/** A line that was just opened: everything is sent. */
export function newQuality(atSeconds: number): LineQuality {
  return {
    rung: 0,
    beganSeconds: atSeconds,
    changedSeconds: atSeconds,
    bad: 0,
    goodSinceSeconds: null,
    waitSeconds: QUALITY_LIMITS.waitSeconds,
    wentUp: false,
  };
}

/** What may be sent on such a line. */
export function limitsOf({ rung }: LineQuality): LineLimits {
  const { left, picture, sound } = rungAt(rung);
  return { left, picture, sound };
}

/** The line after another moment: down soon, up late, and later each time that up was too much. */
export function stepQuality(state: LineQuality, sample: LineSample): LineQuality {
  const { atSeconds } = sample;
  if (isBad(state, sample)) {
    const bad = state.bad + 1;
    const isDown = bad >= QUALITY_LIMITS.badMoments && state.rung < RUNGS.length - 1;
    if (!isDown) return { ...state, bad, goodSinceSeconds: null };
    const wasTooMuch = state.wentUp && atSeconds - state.changedSeconds < QUALITY_LIMITS.trialSeconds;
    const waitSeconds = wasTooMuch
      ? Math.min(2 * state.waitSeconds, QUALITY_LIMITS.longestWaitSeconds)
      : state.waitSeconds;
    return moved(state, atSeconds, { rung: state.rung + 1, waitSeconds, wentUp: false });
  }
  if (state.rung === 0 || !isGoodFor(rungAt(state.rung - 1), state, sample))
    return { ...state, bad: 0, goodSinceSeconds: null };
  const goodSinceSeconds = state.goodSinceSeconds ?? atSeconds;
  if (atSeconds - goodSinceSeconds < state.waitSeconds) return { ...state, bad: 0, goodSinceSeconds };
  return moved(state, atSeconds, { rung: state.rung - 1, waitSeconds: state.waitSeconds, wentUp: true });
}

function moved(
  state: LineQuality,
  atSeconds: number,
  to: Pick<LineQuality, 'rung' | 'waitSeconds' | 'wentUp'>,
): LineQuality {
  return { ...state, ...to, changedSeconds: atSeconds, bad: 0, goodSinceSeconds: null };
}

function isBad(state: LineQuality, { atSeconds, ...sample }: LineSample): boolean {
  const { availableKbps, sentKbps, isMachineSlow, lossShare, roundTripMs, waitingBytes } = sample;
  const isLearned = atSeconds - state.beganSeconds >= QUALITY_LIMITS.learnSeconds;
  const { needKbps, picture } = rungAt(state.rung);
  // What a line carries is learned from what is sent: without a picture nothing is known of it.
  const isNarrow =
    isLearned &&
    !isMachineSlow &&
    picture !== null &&
    availableKbps !== null &&
    availableKbps < needKbps &&
    (sentKbps ?? Infinity) >= QUALITY_LIMITS.filledShare * availableKbps;
  return (
    isNarrow ||
    (lossShare ?? 0) > QUALITY_LIMITS.badLossShare ||
    (roundTripMs ?? 0) > QUALITY_LIMITS.badRoundTripMs ||
    waitingBytes > QUALITY_LIMITS.badWaitingBytes
  );
}

function isGoodFor(next: Rung, state: LineQuality, sample: LineSample): boolean {
  const { availableKbps, lossShare, roundTripMs, waitingBytes } = sample;
  const isKnown = rungAt(state.rung).picture !== null && availableKbps !== null;
  return (
    (!isKnown || availableKbps >= next.needKbps * QUALITY_LIMITS.headroom) &&
    (lossShare ?? 0) <= QUALITY_LIMITS.goodLossShare &&
    (roundTripMs ?? 0) <= QUALITY_LIMITS.goodRoundTripMs &&
    waitingBytes < QUALITY_LIMITS.badWaitingBytes / 2
  );
}

function rungAt(rung: number): Rung {
  const found = RUNGS[rung];
  if (found === undefined) throw new RangeError(`rung: there is none with the number ${rung}.`);
  return found;
}
