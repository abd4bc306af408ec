import type { ClipTruth } from '../../demo-clips/generator/truth-schema.ts';
import type { CueTask } from '../../src/core/feedback/cue-course.ts';
import { CUE_TABLE } from '../../src/core/feedback/cue-table.ts';
import type { CueName } from '../../src/core/session/cue-log.ts';
import type { Table } from '../demo-check/read-table.ts';
import type { TimedCue } from './cues-of-clip.ts';
import { faultsOfRepetition, MEASURING_ERROR, secondsHeld, type TruthOfRepetition } from './truth-of-clip.ts';

/** A cue beside the truth, or a fault of the truth beside its cue. */
export interface CueRow {
  /** Seconds in the clip. */
  readonly at: string;
  readonly cue: string;
  readonly why: string;
  readonly truth: string;
  readonly isRight: boolean;
}

interface Compared {
  readonly cues: readonly TimedCue[];
  readonly task: CueTask;
  readonly truth: ClipTruth;
  readonly table: Table;
}

/** A cue about a repetition comes this long after its true end at most, seconds: the number, and one cue before it. */
const LATEST_SECONDS = 4;
/** A repetition's end is seen early by this much at most, seconds. */
const EARLIEST_SECONDS = 1;

/** Each cue against the truth, then what the truth has and no cue told. */
export function againstTruth(compared: Compared): CueRow[] {
  const { cues, truth, table, task } = compared;
  const repetitions = truth.repetitions.map((of) => ({
    ...of,
    faults: faultsOfRepetition(of, truth, table, task),
  }));
  const given = cues.map(({ timeSeconds, cue }): CueRow => {
    const verdict = judge(cue.name, timeSeconds, repetitions, compared);
    const { what, measured } = cue.why;
    const figure = measured === null ? '' : ` ${measured.value.toFixed(2)} ${measured.unit}`;
    return { at: timeSeconds.toFixed(1), cue: cue.words, why: `${what}${figure}`, ...verdict };
  });
  return [...given, ...untold(compared, repetitions)];
}

type Verdict = Pick<CueRow, 'truth' | 'isRight'>;

function judge(
  name: CueName,
  at: number,
  repetitions: readonly TruthOfRepetition[],
  { cues, truth, table, task }: Compared,
): Verdict {
  if (truth.exercise === 'hold') return judgeOfHold(name, at, { cues, truth, table, task });
  const last = repetitions.findLast(({ endS }) => endS - EARLIEST_SECONDS <= at);
  if (last === undefined || at - last.endS > LATEST_SECONDS)
    return { truth: 'no repetition ends here', isRight: false };
  const place = repetitions.indexOf(last) + 1;
  const full = repetitions.slice(0, place).filter(({ partial }) => !partial).length;
  const faults = last.faults.length === 0 ? 'no fault' : last.faults.join(', ');
  const told = `repetition ${place}${last.partial ? ', partial' : ''}: ${faults}`;
  switch (name) {
    case 'repetition': {
      const number = cues.find(({ timeSeconds }) => timeSeconds === at)?.cue.words;
      return { truth: `${told}; full so far: ${full}`, isRight: !last.partial && number === String(full) };
    }
    case 'set-done':
      return { truth: `${told}; full so far: ${full}`, isRight: full === task.asked?.amount };
    case 'like-that':
      return { truth: told, isRight: !last.partial && last.faults.length === 0 };
    default:
      return { truth: told, isRight: last.faults.includes(name) };
  }
}

/** How much later or earlier than the truth a cue of a hold may come, seconds: confirming, and one cue before it. */
const HOLD_SECONDS = 2.5;

function judgeOfHold(name: CueName, at: number, { truth, table, task, cues }: Compared): Verdict {
  const row = Math.min(table.length - 1, Math.round(at * truth.fps));
  const flexionDeg = table.number(row, 'elbow_flexion_deg') ?? NaN;
  const held = secondsHeld(truth, at);
  const told = `${flexionDeg.toFixed(0)} deg, held ${held.toFixed(1)} s`;
  const amount = task.asked?.amount ?? NaN;
  const { targetAngleDeg, toleranceDeg } = task.thresholds;
  switch (name) {
    case 'in-range':
      return {
        truth: told,
        isRight: truth.holdsInRangeS.some(([start]) => at >= start && at - start <= HOLD_SECONDS),
      };
    case 'bend-more':
      return { truth: told, isRight: flexionDeg < targetAngleDeg - toleranceDeg + MEASURING_ERROR.deg };
    case 'bend-less':
      return { truth: told, isRight: flexionDeg > targetAngleDeg + toleranceDeg - MEASURING_ERROR.deg };
    case 'breathe':
      return {
        truth: told,
        isRight: truth.holdsInRangeS.some(([start, end]) => at <= end + 1 && at - start >= 8),
      };
    case 'time-left': {
      const left = cues.find(({ timeSeconds }) => timeSeconds === at)?.cue.why.measured?.value ?? NaN;
      return { truth: told, isRight: Math.abs(amount - held - left) <= HOLD_SECONDS };
    }
    case 'hold-done':
      return { truth: told, isRight: Math.abs(held - amount) <= HOLD_SECONDS };
    case 'ease-off':
      return { truth: 'the bar of the clip never lifts', isRight: false };
    default:
      return { truth: told, isRight: false };
  }
}

/** What the truth has and no cue told: repetitions, first faults, holds, and the end of what was asked. */
function untold({ cues, truth, task }: Compared, repetitions: readonly TruthOfRepetition[]): CueRow[] {
  const has = (from: number, to: number, name: CueName): boolean =>
    cues.some(({ timeSeconds, cue }) => cue.name === name && timeSeconds >= from && timeSeconds <= to);
  const missing = (at: number, name: CueName, what: string, isTold: boolean): CueRow[] => [
    {
      at: at.toFixed(1),
      cue: isTold ? '(told)' : '(missing)',
      why: CUE_TABLE[name].shown,
      truth: what,
      isRight: isTold,
    },
  ];
  if (truth.exercise === 'hold')
    return [
      ...truth.holdsInRangeS.flatMap(([start], index) =>
        missing(start, 'in-range', `hold ${index + 1} begins`, has(start, start + HOLD_SECONDS, 'in-range')),
      ),
      ...missing(
        truth.durationS,
        'hold-done',
        `held ${task.asked?.amount ?? 0} s`,
        has(0, Infinity, 'hold-done'),
      ),
    ];
  const lastFull = repetitions.findLast(({ partial }) => !partial);
  return repetitions.flatMap((repetition, index): CueRow[] => {
    const { endS, partial, faults } = repetition;
    const isTold = (name: CueName): boolean => has(endS - EARLIEST_SECONDS, endS + LATEST_SECONDS, name);
    const number = `repetition ${index + 1}`;
    const name = repetition === lastFull ? 'set-done' : 'repetition';
    const isFirst = (fault: CueName): boolean =>
      !repetitions.slice(0, index).some((before) => before.faults.includes(fault));
    return [
      ...(partial ? [] : missing(endS, name, `${number} ends`, isTold(name))),
      // Of several faults one is told, the one that spoils it most.
      ...faults
        .filter((fault) => isFirst(fault) && repetition !== lastFull)
        .slice(0, 1)
        .flatMap((fault) => missing(endS, fault, `${number}: ${fault}`, isTold(fault))),
    ];
  });
}
