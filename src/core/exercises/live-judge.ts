import { isMeasured } from '../kinematics/measured.ts';
import type { KinematicFrame } from '../kinematics/kinematic-frame.ts';
import { addRecent, findLastRecent, nothingRecent, valuesOf, type Recent } from '../signal/recent.ts';
import type { ExerciseSettings } from './exercise.ts';
import { initialTrace, stepTrace, type FlexionSample, type TraceState } from './flexion-trace.ts';
import {
  INITIAL_HOLD_RUNS,
  runsSoFar,
  secondsOf,
  stepHoldRuns,
  type HoldRun,
  type HoldRunState,
} from './hold-runs.ts';
import { judgeRepetition } from './judge-set.ts';
import type { Phase, Repetition } from './judgement.ts';
import { meanMisreading, misreadingOf, MOST_BINS, settlePhases } from './phase-fit.ts';
import { addEvidence, NO_EVIDENCE, type ShapeEvidence } from './shape-evidence.ts';
import { NOT_MISREAD, type Misreading } from './phase-model.ts';
import { fitRepetition } from './repetition-phases.ts';
import {
  NO_REPETITIONS,
  segmentRepetitions,
  type RepetitionTurns,
  type SetTurns,
} from './repetition-turns.ts';
import type { Thresholds } from './thresholds.ts';
import { hasSameTurns, NO_TURNS, stepTurning, type TurningState } from './turning-points.ts';

/** Frames and samples are kept for so long, seconds: longer than the longest repetition with what surrounds it. */
const MEMORY_SECONDS = 60;

/** Slower than this the arm is at rest or at the top, degrees a second. For the word on the screen only. */
const MOVING_DEG_PER_S = 10;

/** So much rest after a lowering is seen before its end is dated: a slow end would be taken for a longer lowering. */
const REST_SECONDS = 0.3;

/** What is judged and by what. */
export interface LiveJudgeSettings {
  readonly settings: ExerciseSettings;
  readonly thresholds: Thresholds;
}

/** What has just happened. */
export type LiveEvent =
  | { readonly kind: 'hold-begins' | 'hold-ends' }
  | { readonly kind: 'hand-rises'; readonly riseUpperArms: number }
  | { readonly kind: 'repetition'; readonly found: Repetition };

/** What is known of the set so far, from the past alone. The record's judgement, made at its end, rules. */
export interface LiveJudge {
  readonly phase: Phase;
  /** Time in the target range so far. */
  readonly inRangeSeconds: number;
  readonly repetitions: number;
  readonly partialRepetitions: number;
  /** Duration of the last finished lowering, or null. */
  readonly loweringSeconds: number | null;
  /** The latest sample of elbow flexion, about a third of a second old; null before the first. */
  readonly latest: FlexionSample | null;
  readonly trace: TraceState;
  readonly holdRuns: HoldRunState;
  readonly turns: TurningState;
  /** The repetitions by these turns. Where each lies holds; how far its stretch goes on is as old as they are. */
  readonly found: SetTurns;
  readonly frames: Recent<KinematicFrame>;
  readonly samples: Recent<FlexionSample>;
  readonly evidence: ShapeEvidence;
  /** What the postures of each full repetition were misread by. */
  readonly misreadings: readonly Misreading[];
  /** Times of the tops that were told as repetitions, seconds. */
  readonly toldTops: ReadonlySet<number>;
  /** Height of the hand at the start of the hold that is going on, and whether its rise was told. */
  readonly hand: { readonly startUp: number; readonly isTold: boolean } | null;
}

/** Nothing seen yet. */
export function initialLiveJudge({ thresholds }: LiveJudgeSettings): LiveJudge {
  return {
    phase: 'rest',
    inRangeSeconds: 0,
    repetitions: 0,
    partialRepetitions: 0,
    loweringSeconds: null,
    latest: null,
    trace: initialTrace(thresholds.speedWindowSeconds),
    holdRuns: INITIAL_HOLD_RUNS,
    turns: NO_TURNS,
    found: NO_REPETITIONS,
    frames: nothingRecent(),
    samples: nothingRecent(),
    evidence: NO_EVIDENCE,
    misreadings: [],
    toldTops: new Set(),
    hand: null,
  };
}

/** Takes in the next frame of the set, with the same steps as the judgement of the record. */
export function stepLiveJudge(
  before: LiveJudge,
  frame: KinematicFrame,
  by: LiveJudgeSettings,
): { readonly judge: LiveJudge; readonly events: readonly LiveEvent[] } {
  const { state: trace, ready } = stepTrace(before.trace, frame);
  const oldest = frame.timeSeconds - MEMORY_SECONDS;
  const judge: LiveJudge = {
    ...before,
    trace,
    frames: addRecent(before.frames, [frame], oldest),
    samples: addRecent(before.samples, ready, oldest),
    latest: ready.at(-1) ?? before.latest,
  };
  return by.settings.exercise === 'hold'
    ? stepHold(judge, frame, ready, by.thresholds)
    : stepRepetitions(judge, ready, by);
}

function stepHold(
  before: LiveJudge,
  frame: KinematicFrame,
  ready: readonly FlexionSample[],
  thresholds: Thresholds,
): { judge: LiveJudge; events: LiveEvent[] } {
  const holdRuns = ready.reduce((state, sample) => stepHoldRuns(state, sample, thresholds), before.holdRuns);
  const wasIn = isHeld(before.holdRuns);
  const isIn = isHeld(holdRuns);
  const events: LiveEvent[] = [];
  if (isIn && !wasIn) events.push({ kind: 'hold-begins' });
  if (wasIn && !isIn) events.push({ kind: 'hold-ends' });

  const handUp = frame.body.hand?.up ?? null;
  let hand = isIn ? before.hand : null;
  if (isIn && hand === null && handUp !== null) hand = { startUp: handUp, isTold: false };
  const rise = hand !== null && handUp !== null ? handUp - hand.startUp : 0;
  if (hand !== null && rise > thresholds.handRiseUpperArms && !hand.isTold) {
    events.push({ kind: 'hand-rises', riseUpperArms: rise });
    hand = { ...hand, isTold: true };
  } else if (hand !== null && rise < thresholds.handRiseUpperArms / 2) hand = { ...hand, isTold: false };

  const inRangeSeconds =
    ready.length === 0 ? before.inRangeSeconds : secondsInRange(runsSoFar(holdRuns, thresholds));
  const phase = isIn && holdRuns.holding && isMeasured(frame.elbowFlexionDeg) ? 'in-range' : 'rest';
  return { judge: { ...before, holdRuns, hand, inRangeSeconds, phase }, events };
}

function secondsInRange(runs: readonly HoldRun[]): number {
  return runs.reduce((sum, { spans }) => sum + secondsOf(spans), 0);
}

function isHeld({ place }: HoldRunState): boolean {
  return place.kind === 'in' || place.kind === 'leaving';
}

function stepRepetitions(
  before: LiveJudge,
  ready: readonly FlexionSample[],
  by: LiveJudgeSettings,
): { judge: LiveJudge; events: LiveEvent[] } {
  if (ready.length === 0) return { judge: before, events: [] };
  const turns = ready.reduce((state, sample) => stepTurning(state, sample, by.thresholds), before.turns);
  // An arm at rest turns nowhere: what was found stays, and a long set costs no more a frame than a short one.
  const found = hasSameTurns(before.turns, turns) ? before.found : segmentRepetitions(turns, by.thresholds);
  let judge: LiveJudge = { ...before, turns, found, phase: phaseOf(turns, before.latest) };
  const events: LiveEvent[] = [];
  const isToTell = (repetition: RepetitionTurns): boolean =>
    !before.toldTops.has(repetition.top.timeSeconds) && isFinished(repetition, before.samples);
  if (found.repetitions.some(isToTell)) {
    const current = segmentRepetitions(turns, by.thresholds);
    for (const repetition of current.repetitions.filter(isToTell)) {
      const told = tell(judge, repetition, current, by);
      judge = told.judge;
      events.push(...told.events);
    }
  }
  // Among all, not the finished: when the next bending begins, the end of this one is open again for a moment.
  let repetitions = 0;
  let partialRepetitions = 0;
  for (const { top, partial } of found.repetitions) {
    if (!judge.toldTops.has(top.timeSeconds)) continue;
    if (partial) partialRepetitions++;
    else repetitions++;
  }
  return { judge: { ...judge, partialRepetitions, repetitions }, events };
}

/** Lowered to the end: the next bending has begun, or the arm has rested for REST_SECONDS. */
function isFinished({ end }: RepetitionTurns, samples: Recent<FlexionSample>): boolean {
  if (!end.open) return true;
  const restedSince = (findLastRecent(samples, () => true)?.timeSeconds ?? 0) - REST_SECONDS;
  const lastMoving = findLastRecent(
    samples,
    ({ speedDegPerS }) => Math.abs(speedDegPerS ?? 0) >= MOVING_DEG_PER_S,
  );
  return lastMoving === undefined || lastMoving.timeSeconds < restedSince;
}

/** Judges a repetition that has just ended. One whose movement shows that it is none is left out. */
function tell(
  judge: LiveJudge,
  turns: RepetitionTurns,
  setTurns: SetTurns,
  { settings, thresholds }: LiveJudgeSettings,
): { judge: LiveJudge; events: LiveEvent[] } {
  const samples = valuesOf(judge.samples);
  const fits = fitRepetition(samples, turns, MOST_BINS.live);
  if (fits === null) return { judge, events: [] };
  const evidence = addEvidence(judge.evidence, fits.evidence);
  const set = { setTurns, settings, thresholds, upperArmCm: null };
  const frames = valuesOf(judge.frames);
  const misreadings = turns.partial
    ? judge.misreadings
    : [...judge.misreadings, misreadingOf(fits, evidence)];
  const misreading = turns.partial ? NOT_MISREAD : meanMisreading(misreadings);
  const fit = settlePhases(fits, evidence, misreading);
  const repetition = judgeRepetition(frames, samples, turns, fit, set);
  if (repetition === null) return { judge, events: [] };
  const { loweringSeconds } = repetition;
  const toldTops = new Set(judge.toldTops).add(turns.top.timeSeconds);
  return {
    judge: { ...judge, evidence, misreadings, toldTops, loweringSeconds },
    events: [{ kind: 'repetition', found: repetition }],
  };
}

function phaseOf(turns: TurningState, latest: FlexionSample | null): Phase {
  const speed = latest?.speedDegPerS ?? 0;
  if (speed > MOVING_DEG_PER_S) return 'bending';
  if (speed < -MOVING_DEG_PER_S) return 'lowering';
  return turns.at(-1)?.way === 'up' ? 'top' : 'rest';
}
