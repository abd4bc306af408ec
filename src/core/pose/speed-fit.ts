import { FIT_LIMITS, NETWORK_COST } from './fit-limits.ts';
import { liveStepSeconds } from './picture-rate.ts';
import { speedOf, type PacedPicture, type PictureSpeed } from './picture-speed.ts';
import type { PoseModel } from './pose-service.ts';

/**
 * checking: not known yet. good: numbers are young enough and pictures often enough. late: numbers are old, sets can be
 * judged. too-slow: the machine measures too few pictures to judge a set. camera-slow: the camera gives too few.
 */
export type FitVerdict = 'checking' | 'good' | 'late' | 'too-slow' | 'camera-slow';

/** Network and rate as fitted so far. */
export interface SpeedFit {
  readonly model: PoseModel;
  /** True when the network was chosen by hand, or is the only one: then only the rate is fitted. */
  readonly isModelFixed: boolean;
  /** One of the table's rates. */
  readonly rateHz: number;
  /** Pictures a second that the source gives, as last seen; null while not known. */
  readonly sourceHz: number | null;
  readonly verdict: FitVerdict;
  /** Of the last window; null before the first. */
  readonly speed: PictureSpeed | null;
  /** Pictures of the window that is open. */
  readonly window: readonly PacedPicture[];
  readonly warmUpLeft: number;
  readonly lateWindows: number;
  readonly roomyWindows: number;
  /** True once the full network was too slow: it is not tried again, so that nothing flips back and forth. */
  readonly hasFullFailed: boolean;
}

/** A fit that begins with a network, at the highest rate. */
export function beginFit(model: PoseModel, isModelFixed: boolean): SpeedFit {
  return {
    model,
    isModelFixed,
    rateHz: FIT_LIMITS.ratesHz[0],
    sourceHz: null,
    verdict: 'checking',
    speed: null,
    window: [],
    warmUpLeft: FIT_LIMITS.warmUpPictures,
    lateWindows: 0,
    roomyWindows: 0,
    hasFullFailed: false,
  };
}

/** The same fit with a network that computes now, whether it was wished or is the only one that could be had. */
export function withNetwork(fit: SpeedFit, model: PoseModel, isModelFixed: boolean): SpeedFit {
  const { rateHz, sourceHz, hasFullFailed } = fit;
  return { ...beginFit(model, isModelFixed), rateHz, sourceHz, hasFullFailed };
}

/** What to ask of a pose service: least seconds between two pictures, 0 for as many as can be. */
export function stepSecondsOf({ rateHz, sourceHz }: SpeedFit): number {
  const isHighest = rateHz === FIT_LIMITS.ratesHz[0];
  return isHighest && (sourceHz ?? 0) <= FIT_LIMITS.fastSourceHz ? 0 : 1 / rateHz;
}

/**
 * Takes the next measured picture into the fit. The model that comes out may be another one: change to it, and go on
 * with withNetwork() when it computes. mayChangeModel is false once a set of the session was begun.
 */
export function stepFit(fit: SpeedFit, picture: PacedPicture, mayChangeModel: boolean): SpeedFit {
  if (fit.warmUpLeft > 0) return { ...fit, warmUpLeft: fit.warmUpLeft - 1 };
  const before = fit.window[fit.window.length - 1];
  if (before !== undefined && picture.arrivedSeconds - before.arrivedSeconds > FIT_LIMITS.pauseSeconds)
    return { ...fit, window: [picture] };
  const window = [...fit.window, picture];
  const seconds = picture.arrivedSeconds - (window[0]?.arrivedSeconds ?? 0);
  if (window.length <= FIT_LIMITS.windowPictures && seconds < FIT_LIMITS.windowSeconds)
    return { ...fit, window };
  const speed = speedOf(window);
  // The last picture is also the first of the next window: no interval is left out.
  return speed === null ? fit : judged({ ...fit, window: [picture], speed }, speed, mayChangeModel);
}

function judged(fit: SpeedFit, speed: PictureSpeed, mayChangeModel: boolean): SpeedFit {
  const isPaced = stepSecondsOf(fit) > 0;
  const seenHz = speed.passedOverHz === null ? null : speed.rateHz + speed.passedOverHz;
  const sourceHz = seenHz ?? (isPaced ? fit.sourceHz : speed.rateHz);
  const rateHz = fittedRateHz(fit, speed, sourceHz);
  const isLate = speed.ageMs > FIT_LIMITS.oldestAgeMs || speed.rateHz < FIT_LIMITS.leastRateHz;
  // Late at a rate that is about to rise: that is the first thing to try.
  const isLateForGood = isLate && rateHz <= fit.rateHz;
  const next = {
    ...fit,
    sourceHz,
    rateHz,
    lateWindows: isLateForGood ? fit.lateWindows + 1 : 0,
    roomyWindows: hasRoomForFull(fit, speed) ? fit.roomyWindows + 1 : 0,
  };
  const mayChange = mayChangeModel && !fit.isModelFixed;
  const isLateLongEnough = next.lateWindows >= FIT_LIMITS.lateWindows;
  if (mayChange && isLateLongEnough && fit.model === 'full' && liteHelps(speed))
    return { ...withNetwork(next, 'lite', false), hasFullFailed: true };
  if (mayChange && next.roomyWindows >= FIT_LIMITS.roomyWindows) return withNetwork(next, 'full', false);
  if (isLate) return isLateLongEnough ? { ...next, verdict: lateVerdict(speed) } : next;
  return { ...next, verdict: 'good' };
}

function lateVerdict(speed: PictureSpeed): FitVerdict {
  if (speed.rateHz >= FIT_LIMITS.leastRateHz) return 'late';
  return isMachineBusy(speed) ? 'too-slow' : 'camera-slow';
}

function isMachineBusy({ workShare }: PictureSpeed): boolean {
  return workShare > FIT_LIMITS.busyShare;
}

/** A camera that gives few pictures is not helped by a smaller network, unless what it saves is what is missing. */
function liteHelps(speed: PictureSpeed): boolean {
  if (isMachineBusy(speed)) return true;
  const savedMs = speed.workMs.p95 * (1 - NETWORK_COST.lite / NETWORK_COST.full);
  return speed.rateHz >= FIT_LIMITS.leastRateHz && speed.ageMs - savedMs <= FIT_LIMITS.oldestAgeMs;
}

/** Whether the full network can be promised to hold the limits, by the networks' costs and with room to spare. */
function hasRoomForFull({ model, hasFullFailed }: SpeedFit, speed: PictureSpeed): boolean {
  if (model !== 'lite' || hasFullFailed) return false;
  const factor = NETWORK_COST.full / NETWORK_COST.lite;
  const workMs = speed.workMs.p95 * factor;
  const intervalMs = Math.max(1000 / speed.rateHz, workMs);
  const ageMs = speed.ageMs + (workMs - speed.workMs.p95) + (intervalMs - 1000 / speed.rateHz);
  const coolest = Math.min(...FIT_LIMITS.ratesHz);
  return (
    (coolest * speed.workMs.median * factor) / 1000 <= FIT_LIMITS.hotShare &&
    ageMs <= FIT_LIMITS.oldestAgeMs * FIT_LIMITS.roomyAgeShare &&
    1000 / intervalMs >= FIT_LIMITS.leastRateHz * FIT_LIMITS.roomyRateShare
  );
}

/** The highest rate that keeps the machine cool, but none so low that numbers get too old. */
function fittedRateHz(fit: SpeedFit, speed: PictureSpeed, sourceHz: number | null): number {
  const intervalMsAt = (rateHz: number): number =>
    1000 * liveStepSeconds(rateHz, sourceHz ?? FIT_LIMITS.ratesHz[0]);
  const shareAt = (rateHz: number): number => speed.workMs.median / intervalMsAt(rateHz);
  const latencyMs = speed.latencyMs?.p95 ?? speed.workMs.p95;
  // Pictures wait for a machine that is busy all the time; at a lower rate they do not.
  const withoutWaitMs =
    (speed.latencyMs?.least ?? speed.workMs.median) + speed.workMs.p95 - speed.workMs.median;
  const latencyAt = (rateHz: number): number =>
    rateHz < fit.rateHz ? Math.min(latencyMs, withoutWaitMs) : latencyMs;
  const isYoungAt = (rateHz: number): boolean => {
    const room = rateHz < fit.rateHz ? FIT_LIMITS.slowerAgeShare : 1;
    const intervalMs = Math.max(intervalMsAt(rateHz), speed.workMs.median);
    return latencyAt(rateHz) + intervalMs <= FIT_LIMITS.oldestAgeMs * room;
  };
  const cool = FIT_LIMITS.ratesHz.find(
    (rateHz) => shareAt(rateHz) <= (rateHz > fit.rateHz ? FIT_LIMITS.coolShare : FIT_LIMITS.hotShare),
  );
  const lowest = FIT_LIMITS.ratesHz[FIT_LIMITS.ratesHz.length - 1];
  const wished = cool ?? lowest ?? fit.rateHz;
  const young = FIT_LIMITS.ratesHz.filter((rateHz) => rateHz >= wished && isYoungAt(rateHz));
  return young[young.length - 1] ?? FIT_LIMITS.ratesHz[0];
}

/** For so long pictures must be too few before it is said in a set, seconds. */
const SLOW_SECONDS = 2;

/** True when fewer pictures than a set needs were measured in the last two seconds of a set that has run longer. */
export function isTooSlowNow(
  pictures: readonly PacedPicture[],
  measuringSinceSeconds: number,
  nowSeconds: number,
): boolean {
  if (nowSeconds - measuringSinceSeconds < SLOW_SECONDS) return false;
  const recent = pictures.filter(({ arrivedSeconds }) => arrivedSeconds > nowSeconds - SLOW_SECONDS);
  return recent.length < SLOW_SECONDS * FIT_LIMITS.leastRateHz;
}
