import type { Phase } from '../exercises/judgement.ts';
import type { Exercise } from '../exercises/exercise.ts';
import { isMeasured, type Measured, type NotMeasuredReason } from '../kinematics/measured.ts';
import { FORMS, figureWords, intervalWords, reasonWords, valueWords } from './measure-words.ts';

/** How something stands: each role has its own colour and its own shape. */
export type Role = 'within' | 'attention' | 'stop' | 'quiet';

/** The state in a word, with a few words of detail. */
export interface StateWords {
  readonly role: Role;
  readonly word: string;
  readonly detail: string;
}

/** A figure that reads from three metres, with what stands beside it. */
export interface FigureWords {
  /** Null when there is none: the note says why. */
  readonly figure: string | null;
  readonly unit: string;
  readonly note: string;
}

/** What the state depends on. */
export interface LiveMoment {
  readonly exercise: Exercise;
  readonly phase: Phase;
  readonly elbowFlexionDeg: Measured;
  readonly reason: NotMeasuredReason | null;
  /** The target range of a hold, degrees; null for exercises without one. */
  readonly target: { readonly low: number; readonly high: number } | null;
}

const PHASE_STATES: Readonly<Record<Exclude<Phase, 'in-range'>, StateWords>> = {
  rest: { role: 'quiet', word: 'Rest', detail: 'bend to begin' },
  bending: { role: 'within', word: 'Bend', detail: 'bending' },
  top: { role: 'within', word: 'Top', detail: 'bent end' },
  lowering: { role: 'within', word: 'Lower', detail: 'lowering, slowly' },
};

/** The state of a moment in which a set is measured, in one word. */
export function stateWords({ exercise, phase, elbowFlexionDeg, reason, target }: LiveMoment): StateWords {
  if (reason !== null) return { role: 'attention', word: 'Not measured', detail: reasonWords(reason) };
  if (exercise !== 'hold') return PHASE_STATES[phase === 'in-range' ? 'rest' : phase];
  if (phase === 'in-range') return { role: 'within', word: 'Hold', detail: 'in the target range' };
  if (target === null || !isMeasured(elbowFlexionDeg)) return PHASE_STATES.rest;
  const { value } = elbowFlexionDeg;
  if (value < target.low) return { role: 'attention', word: 'Out', detail: 'too straight' };
  if (value > target.high) return { role: 'attention', word: 'Out', detail: 'too bent' };
  return { role: 'quiet', word: 'Near', detail: 'keep still' };
}

/** Elbow flexion in whole degrees with its interval, or why there is none. */
export function angleWords(elbowFlexionDeg: Measured): FigureWords {
  if (!isMeasured(elbowFlexionDeg)) {
    return { figure: null, unit: FORMS.angleDeg.unit, note: reasonWords(elbowFlexionDeg.notMeasured) };
  }
  return {
    figure: figureWords(elbowFlexionDeg.value, FORMS.angleDeg),
    unit: FORMS.angleDeg.unit,
    note: intervalWords(elbowFlexionDeg, FORMS.angleDeg),
  };
}

/** What has been counted in the set so far. Counted from the past alone: the record, judged at its end, rules. */
export interface LiveCounts {
  readonly inRangeSeconds: number;
  readonly repetitions: number;
  readonly partialRepetitions: number;
  /** Duration of the last lowering; null before the first. */
  readonly loweringSeconds: number | null;
}

/** Counts before a set. */
export const NO_COUNTS: LiveCounts = {
  inRangeSeconds: 0,
  repetitions: 0,
  partialRepetitions: 0,
  loweringSeconds: null,
};

/** A figure with its name and the room that its longest value takes, in digits. */
export interface CountWords extends FigureWords {
  readonly name: string;
  readonly widest: number;
}

/** The clock of a hold, or the count of repetitions with the time of the last lowering. */
export function countWords(exercise: Exercise, counts: LiveCounts): CountWords {
  if (exercise === 'hold') {
    const { inRangeSeconds } = counts;
    // From 100 s on whole seconds, so that the box need not be wider; the record keeps the tenths.
    const form = inRangeSeconds < 100 ? FORMS.seconds : { ...FORMS.seconds, decimals: 0 };
    const figure = figureWords(Math.floor(inRangeSeconds * 10) / 10, form);
    return { name: 'Held in the target range', figure, unit: form.unit, note: '', widest: 3.5 };
  }
  const { repetitions, partialRepetitions, loweringSeconds } = counts;
  const lowered =
    loweringSeconds === null ? [] : [`lowered in ${valueWords(loweringSeconds, FORMS.seconds)}`];
  const partial = partialRepetitions === 0 ? [] : [`and ${partialRepetitions} partial`];
  return {
    name: 'Repetitions',
    figure: String(repetitions),
    unit: '',
    note: [...lowered, ...partial].join(', '),
    widest: 2,
  };
}
