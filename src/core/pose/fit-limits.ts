import type { PoseModel } from './pose-service.ts';

/**
 * By what network and rate are fitted to the machine. None of these has a published source: each is our own choice, for
 * the reason beside it.
 */
export const FIT_LIMITS = {
  /** Oldest number on the screen, 95th percentile: a cue later than this no longer belongs to what is felt. */
  oldestAgeMs: 150,
  /** Fewest measured pictures a second: a quick bend lasts about a second and needs some eight points to be followed. */
  leastRateHz: 8,
  /** A judgement is made of so many pictures, or of what came in so many seconds where they come slowly. */
  windowPictures: 30,
  windowSeconds: 3,
  /** The first pictures after a start or change carry the compiling and the search for the person. */
  warmUpPictures: 5,
  /** A longer pause is no slowness of the machine (page hidden, lid closed): what was seen before it is forgotten. */
  pauseSeconds: 3,
  /** Late windows in a row before something heavier than the rate is changed: one slow picture spoils one window. */
  lateWindows: 2,
  /** Windows in a row that must promise room for the larger network, and the room each must promise. */
  roomyWindows: 3,
  roomyAgeShare: 0.8,
  roomyRateShare: 1.25,
  /** Share of the time that the network may work. Above it fewer pictures are measured: the page, the picture on the
   * screen and a call beside them need the rest, and phones stay cool. On two cores with the network at work for nine
   * tenths of the time, the page waited for a core for two thirds of the time that it seemed busy. */
  hotShare: 0.7,
  /** The share that a higher rate must promise before it is taken again. */
  coolShare: 0.6,
  /** A lower rate is taken only where it leaves this share of the oldest age. */
  slowerAgeShare: 0.95,
  /** From this work share on it is the machine that limits the rate; below it, it waits for the camera more than it works. */
  busyShare: 0.5,
  /** Rates of measuring, pictures a second, the highest first. */
  ratesHz: [30, 20, 15],
  /** A source that gives more than this is held at the highest rate; one at about that rate is not cut at all. */
  fastSourceHz: 33,
} as const;

/** Cost of the networks against each other, measured on one machine's processor: 23, 36 and 134 ms a picture. */
export const NETWORK_COST: Readonly<Record<PoseModel, number>> = { lite: 23, full: 36, heavy: 134 };
