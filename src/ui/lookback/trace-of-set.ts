import type { Exercise } from '../../core/exercises/exercise.ts';
import type { Flag, Phase } from '../../core/exercises/judgement.ts';
import { flagWords } from '../../core/feedback/flag-words.ts';
import { FORMS, type QuantityForm } from '../../core/feedback/measure-words.ts';
import type { KinematicFrame, KinematicSeries } from '../../core/kinematics/kinematic-frame.ts';
import { isMeasured, type Measured } from '../../core/kinematics/measured.ts';
import type {
  PhaseShape,
  RecordedPoint,
  TraceFlag,
  TraceMeasure,
  TracePhase,
} from '../charts/trace-types.ts';

/** What can be shown of a set, in the order in which it is offered. */
const MEASURES: readonly {
  readonly key: string;
  readonly name: string;
  readonly form: QuantityForm;
  readonly of: (frame: KinematicFrame) => Measured;
  readonly scale: { readonly low: number; readonly high: number };
}[] = [
  {
    key: 'elbow',
    name: 'Elbow flexion',
    form: FORMS.angleDeg,
    of: (frame) => frame.elbowFlexionDeg,
    scale: { low: 0, high: 150 },
  },
  {
    key: 'shoulder',
    name: 'Shoulder flexion',
    form: FORMS.angleDeg,
    of: (frame) => frame.shoulderFlexionDeg,
    scale: { low: -30, high: 90 },
  },
  {
    key: 'trunk',
    name: 'Trunk inclination',
    form: FORMS.angleDeg,
    of: (frame) => frame.trunkInclinationDeg,
    scale: { low: 0, high: 90 },
  },
  {
    key: 'travel-cm',
    name: 'Torso travel',
    form: FORMS.travelCm,
    of: (frame) => frame.torsoTravelCm,
    scale: { low: 0, high: 20 },
  },
  {
    key: 'travel-arms',
    name: 'Torso travel',
    form: FORMS.upperArms,
    of: (frame) => frame.torsoTravelUpperArms,
    scale: { low: 0, high: 0.6 },
  },
  {
    key: 'forearm',
    name: 'Forearm from level',
    form: FORMS.angleDeg,
    of: (frame) => frame.forearmFromHorizontalDeg,
    scale: { low: -45, high: 45 },
  },
];

/**
 * The measures of a set for the chart. Torso travel comes in centimetres where the height was given, else in
 * upper-arm lengths: one of the two, never both. target is the hold's target range in degrees, or null.
 */
export function measuresOf(
  series: KinematicSeries,
  target: { readonly low: number; readonly high: number } | null,
): TraceMeasure[] {
  const hidden = series.view.upperArmCm === null ? 'travel-cm' : 'travel-arms';
  return MEASURES.filter((measure) => measure.key !== hidden).map(({ key, name, form, of, scale }) => ({
    key,
    name,
    form,
    scale,
    target: key === 'elbow' ? target : null,
    points: series.frames.map((frame) => pointOf(frame.timeSeconds, of(frame))),
  }));
}

/** The measures that are shown at first: what each exercise is judged by. */
export function firstShown(exercise: Exercise, series: KinematicSeries): string[] {
  if (exercise === 'hold') return ['elbow', 'forearm'];
  if (exercise !== 'body-curl') return ['elbow', 'shoulder'];
  return ['elbow', 'shoulder', series.view.upperArmCm === null ? 'travel-arms' : 'travel-cm'];
}

function pointOf(timeSeconds: number, measured: Measured): RecordedPoint {
  if (isMeasured(measured)) {
    return { timeSeconds, value: measured.value, low: measured.low, high: measured.high, reason: null };
  }
  return { timeSeconds, value: null, low: null, high: null, reason: measured.notMeasured };
}

const PHASE_LOOKS: Readonly<Record<Phase, { readonly word: string; readonly shape: PhaseShape }>> = {
  rest: { word: 'rest', shape: 'flat' },
  'in-range': { word: 'in range', shape: 'within' },
  bending: { word: 'bending', shape: 'rising' },
  top: { word: 'top', shape: 'top' },
  lowering: { word: 'lowering', shape: 'falling' },
};

/** Phases frame by frame as stretches; a stretch ends where the next begins. Both lists have one entry a frame. */
export function phaseStretches(
  timesSeconds: readonly number[],
  phases: readonly (Phase | null)[],
): TracePhase[] {
  const stretches: TracePhase[] = [];
  let startSeconds = timesSeconds[0] ?? 0;
  for (const [index, endSeconds] of timesSeconds.entries()) {
    const phase = phases[index] ?? null;
    const next = phases[index + 1] ?? null;
    const isLast = index === timesSeconds.length - 1;
    if (!isLast && next === phase) continue;
    const boundary = timesSeconds[index + 1] ?? endSeconds;
    if (phase !== null) stretches.push({ startSeconds, endSeconds: boundary, ...PHASE_LOOKS[phase] });
    startSeconds = boundary;
  }
  return stretches;
}

/** Every evidence moment of every flag, in order of time, for the chart's markers. */
export function flagMoments(flags: readonly Flag[]): TraceFlag[] {
  return flags
    .flatMap(({ kind, startSeconds, evidenceSeconds }) =>
      (evidenceSeconds.length === 0 ? [startSeconds] : evidenceSeconds).map((atSeconds) => ({
        atSeconds,
        word: flagWords(kind).therapist,
      })),
    )
    .sort((one, other) => one.atSeconds - other.atSeconds);
}
