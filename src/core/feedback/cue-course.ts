import type { Exercise } from '../exercises/exercise.ts';
import type { FlagKind, Repetition } from '../exercises/judgement.ts';
import type { LiveEvent, LiveJudge } from '../exercises/live-judge.ts';
import type { Thresholds } from '../exercises/thresholds.ts';
import { valueOf, type Measured } from '../kinematics/measured.ts';
import type { AskedSet } from '../plan/asked-done.ts';
import { CUE_NAMES, type CueCause, type CueName } from '../session/cue-log.ts';
import { faultsGone, NO_CUES, stepCues, type CueMoment, type CueState, type CueWish } from './cue-policy.ts';
import { CUE_TABLE, interrupts, type Cue } from './cue-table.ts';

type Unit = NonNullable<CueCause['measured']>['unit'];
type FlagRow = readonly [CueName, Unit, (of: Repetition) => Measured | number | undefined];

/** What to say about what was noticed in a repetition, and the figure it was noticed by; what is not here needs no word. */
const BY_FLAG: Partial<Record<FlagKind, FlagRow>> = {
  'hand-slip': ['hands-in-place', 'upper-arm lengths', ({ row }) => row?.handSlipUpperArms],
  'shoulder-dominant': ['shoulder-led', 'share', ({ row }) => row?.shoulderWorkShare],
  'elbow-behind-trunk': ['upper-arm-still', 'upper-arm lengths', ({ row }) => row?.elbowBehindTrunkUpperArms],
  'upper-arm-forward': ['upper-arm-still', 'deg', ({ row }) => row?.upperArmForwardDeg],
  'upper-arm-moving': ['elbow-by-side', 'deg', ({ upperArmMovementDeg }) => upperArmMovementDeg],
  'trunk-sway': ['body-still', 'deg', ({ trunkSwayDeg }) => trunkSwayDeg],
  'hip-sag': ['hips-up', 'deg', ({ row }) => row?.hipSagDeg],
  'lowering-fast': ['lower-slowly', 's', ({ loweringSeconds }) => loweringSeconds],
  'forearm-not-supinated': ['palm-up', 'deg', ({ forearmRotationMeanDeg }) => forearmRotationMeanDeg],
  'forearm-not-turning': ['turn-palm', 'deg', ({ forearmRotationRangeDeg }) => forearmRotationRangeDeg],
  'range-bent-end-missing': ['bend-fully', 'deg', ({ topFlexionDeg }) => topFlexionDeg],
};

/** Seconds of an asked hold that are told to be left; those beyond LATEST_TOLD of it are not. Common practice, no source. */
const TIME_LEFT_SECONDS = [30, 20, 10, 5];
const LATEST_TOLD = 0.8;
/** So long in the range without a break before breathing is named, seconds. Common practice, no source. */
const BREATHE_AFTER_SECONDS = 10;
/** How near to the target range the elbow must be for a cue to lead it there, degrees: a hanging arm is at rest. */
const LEADING_DEG = 30;
/** Out of the range for so long before it is corrected, seconds: most come back by themselves. */
const LEADING_AFTER_SECONDS = 1;

/** Of what the cues speak. */
export interface CueTask {
  readonly exercise: Exercise;
  readonly thresholds: Thresholds;
  /** What the plan asks of the set; null where nothing is asked. */
  readonly asked: AskedSet | null;
}

/** The cues of one set so far. */
export interface CueCourse {
  readonly cues: CueState;
  /** All that was asked is done, and was told. */
  readonly isAskedTold: boolean;
  /** Since when the elbow stands near the range without being in it; null while it does not. */
  readonly nearSinceSeconds: number | null;
  /** Since when the hold is in the range; null while it is not. */
  readonly inRangeSinceSeconds: number | null;
  readonly toldSecondsLeft: readonly number[];
}

/** A set begins. */
export const NO_COURSE: CueCourse = {
  cues: NO_CUES,
  isAskedTold: false,
  nearSinceSeconds: null,
  inRangeSinceSeconds: null,
  toldSecondsLeft: [],
};

/** Takes in what was just judged, and gives the cue that begins with it, if one does. */
export function stepCueCourse(
  before: CueCourse,
  { judge, events }: { readonly judge: LiveJudge; readonly events: readonly LiveEvent[] },
  task: CueTask,
  moment: CueMoment,
): { readonly course: CueCourse; readonly given: Cue | null } {
  const seen = timesOf(before, judge, task, moment.timeSeconds);
  const repetitions = repetitionWishes(seen, judge, events);
  const wishes = [
    ...askedDone(seen, judge, task),
    ...events.flatMap(handRises),
    ...repetitions.wishes,
    ...holdWishes(seen, judge, events, task, moment.timeSeconds),
  ]
    .filter(({ cue }) => CUE_TABLE[cue].exercises.includes(task.exercise))
    // Once all that was asked is done nobody is told to do more.
    .filter(({ cue }, _, all) => !isDone(seen, all) || interrupts(cue));
  const isAskedTold = isDone(seen, wishes);
  // Nor is told what waited from before.
  const waiting = repetitions.cues.waiting.filter(({ wish }) => !isAskedTold || interrupts(wish.cue));
  const { state, given } = stepCues({ ...repetitions.cues, waiting }, wishes, moment);
  const told = wishes.flatMap(({ cue, why }) => (cue === 'time-left' ? (why.measured?.value ?? []) : []));
  const course: CueCourse = {
    ...seen,
    cues: state,
    isAskedTold,
    toldSecondsLeft: [...seen.toldSecondsLeft, ...told],
  };
  return { course, given };
}

/** All that was asked is done, in this step or before it. */
function isDone({ isAskedTold }: CueCourse, wishes: readonly CueWish[]): boolean {
  return isAskedTold || wishes.some(({ cue }) => cue === 'hold-done' || cue === 'set-done');
}

/** Since when the hold is in its range, or near it. Coming into the range ends what was said about the way there. */
function timesOf(before: CueCourse, judge: LiveJudge, task: CueTask, now: number): CueCourse {
  if (task.exercise !== 'hold') return before;
  const isIn = judge.phase === 'in-range';
  const isNear = !isIn && leadingCue(judge, task) !== null;
  return {
    ...before,
    cues: isIn ? faultsGone(before.cues, ['bend-more', 'bend-less']) : before.cues,
    inRangeSinceSeconds: isIn ? (before.inRangeSinceSeconds ?? now) : null,
    nearSinceSeconds: isNear ? (before.nearSinceSeconds ?? now) : null,
  };
}

function askedDone({ isAskedTold }: CueCourse, judge: LiveJudge, { asked }: CueTask): CueWish[] {
  if (asked === null || isAskedTold) return [];
  const isHold = asked.unit === 'seconds';
  const done = isHold ? judge.inRangeSeconds : judge.repetitions;
  if (done < asked.amount) return [];
  const measured = { value: done, unit: isHold ? ('s' as const) : ('repetitions' as const) };
  return [
    { cue: isHold ? 'hold-done' : 'set-done', why: { what: 'asked-done', repetition: null, measured } },
  ];
}

function handRises(event: LiveEvent): CueWish[] {
  if (event.kind !== 'hand-rises') return [];
  const measured = { value: event.riseUpperArms, unit: 'upper-arm lengths' as const };
  return [{ cue: 'ease-off', why: { what: 'hand-rising', repetition: null, measured } }];
}

/** Number, correction or praise of a repetition that has just ended, and which faults have gone with it. */
function repetitionWishes(
  { cues }: CueCourse,
  { repetitions }: LiveJudge,
  events: readonly LiveEvent[],
): { readonly wishes: CueWish[]; readonly cues: CueState } {
  const event = events.findLast(({ kind }) => kind === 'repetition');
  if (event?.kind !== 'repetition') return { wishes: [], cues };
  const { found } = event;
  const number = repetitions;
  const corrections = correctionsOf(found, number);
  const uncorrected = [...cues.given].filter(
    ([cue, { inARow }]) => inARow > 0 && CUE_TABLE[cue].priority === 'correction',
  );
  const isGone = (cue: CueName): boolean =>
    !found.partial && isJudged(cue, found) && !corrections.some((wish) => wish.cue === cue);
  const gone = uncorrected.map(([cue]) => cue).filter(isGone);
  const why = (what: CueCause['what']): CueCause => ({
    what,
    repetition: Math.max(1, number),
    measured: { value: number, unit: 'repetitions' },
  });
  const wishes: CueWish[] = [...corrections.slice(0, 1)];
  if (!found.partial) wishes.push({ cue: 'repetition', why: why('repetition-ended') });
  if (corrections.length === 0 && gone.length > 0 && gone.length === uncorrected.length)
    wishes.push({ cue: 'like-that', why: why('good-again') });
  return { wishes, cues: faultsGone(cues, gone) };
}

/** Whether it can be told of a repetition that the fault is not in it. */
function isJudged(cue: CueName, found: Repetition): boolean {
  if (cue === 'shoulder-led') return found.shoulderDominant !== null;
  return Object.values(BY_FLAG).some((row) => row[0] === cue && figureBy(row, found) !== null);
}

function figureBy([, , figureOf]: FlagRow, found: Repetition): number | null {
  const figure = figureOf(found);
  if (figure === undefined) return null;
  return typeof figure === 'number' ? figure : valueOf(figure);
}

/** What to correct about a repetition, the fault that spoils it most first. */
function correctionsOf(found: Repetition, number: number): CueWish[] {
  return found.flags
    .flatMap(({ kind }): CueWish[] => {
      const row = BY_FLAG[kind];
      if (row === undefined) return [];
      const [cue, unit] = row;
      const value = figureBy(row, found);
      const measured = value === null ? null : { value, unit };
      return [{ cue, why: { what: kind, repetition: Math.max(1, number), measured } }];
    })
    .sort((a, b) => CUE_NAMES.indexOf(a.cue) - CUE_NAMES.indexOf(b.cue));
}

function holdWishes(
  course: CueCourse,
  judge: LiveJudge,
  events: readonly LiveEvent[],
  task: CueTask,
  now: number,
): CueWish[] {
  if (task.exercise !== 'hold') return [];
  const { nearSinceSeconds, inRangeSinceSeconds } = course;
  const wishes: CueWish[] = [];
  const seconds = (what: CueCause['what'], value: number): CueCause => ({
    what,
    repetition: null,
    measured: { value, unit: 's' },
  });
  if (events.some(({ kind }) => kind === 'hold-begins'))
    wishes.push({ cue: 'in-range', why: seconds('held', judge.inRangeSeconds) });
  const left = secondsLeftToTell(course, judge, task);
  if (left !== null) wishes.push({ cue: 'time-left', why: seconds('time-left', left) });
  if (inRangeSinceSeconds !== null && now - inRangeSinceSeconds >= BREATHE_AFTER_SECONDS)
    wishes.push({ cue: 'breathe', why: seconds('held', now - inRangeSinceSeconds) });
  const leading = leadingCue(judge, task);
  if (leading !== null && nearSinceSeconds !== null && now - nearSinceSeconds >= LEADING_AFTER_SECONDS)
    wishes.push(leading);
  return wishes;
}

/** The seconds left that are to be told now, or null. */
function secondsLeftToTell(
  { toldSecondsLeft }: CueCourse,
  { phase, inRangeSeconds }: LiveJudge,
  { asked }: CueTask,
): number | null {
  if (asked === null || asked.unit !== 'seconds' || phase !== 'in-range') return null;
  const left = asked.amount - inRangeSeconds;
  const due = TIME_LEFT_SECONDS.filter((mark) => mark <= asked.amount * LATEST_TOLD && left <= mark);
  const [mark] = due.slice(-1);
  return mark === undefined || left <= 0 || toldSecondsLeft.includes(mark) ? null : mark;
}

/** The correction that leads a still elbow into the range, while it stands just outside. */
function leadingCue({ phase, latest }: LiveJudge, { thresholds }: CueTask): CueWish | null {
  if (phase === 'in-range' || latest === null) return null;
  const { flexionDeg, speedDegPerS } = latest;
  const { targetAngleDeg, toleranceDeg, holdSpeedDegPerS } = thresholds;
  if (Math.abs(speedDegPerS ?? 0) > holdSpeedDegPerS) return null;
  const off = flexionDeg - targetAngleDeg;
  if (Math.abs(off) <= toleranceDeg || Math.abs(off) >= toleranceDeg + LEADING_DEG) return null;
  const measured = { value: flexionDeg, unit: 'deg' as const };
  return off < 0
    ? { cue: 'bend-more', why: { what: 'too-straight', repetition: null, measured } }
    : { cue: 'bend-less', why: { what: 'too-bent', repetition: null, measured } };
}
