import { isMeasured, type Measured, type NotMeasuredReason } from '../kinematics/measured.ts';

/** The reason in a few words, to stand behind "not measured:"; what to do about it is said in sentences elsewhere. */
const REASON_WORDS: Readonly<Record<NotMeasuredReason, string>> = {
  nobody: 'nobody in the picture',
  'arm-not-seen': 'arm not seen',
  'trunk-not-seen': 'trunk not seen',
  'legs-not-seen': 'legs not seen',
  'hand-not-seen': 'hand not seen',
  'hand-too-small': 'hand too small to tell',
  'outside-picture': 'partly outside the picture',
  'too-small': 'too small in the picture',
  'wrong-side': 'other side towards the camera',
  'two-people': 'more than one person',
  'too-oblique': 'camera too oblique',
  'tracking-jump': 'tracking jumped',
  'sides-exchanged': 'left and right exchanged',
  gap: 'gap in the pictures',
  'no-stature': 'height not given',
  'too-uncertain': 'too uncertain',
  'too-short': 'too short',
  'not-applicable': 'does not apply here',
};

/** A reason in a few words, without "not measured" before it. */
export function reasonWords(reason: NotMeasuredReason): string {
  return REASON_WORDS[reason];
}

/** How a quantity is written: its unit, and as many decimals as its error allows. */
export interface QuantityForm {
  /** Written behind the figure; empty for a bare ratio. */
  readonly unit: string;
  readonly decimals: number;
  /** What one unit of display is in the value's own unit: 100 shows a share as per cent. */
  readonly factor?: number;
}

/** The forms in which the project's quantities are written. Angles whole degrees, holds 0.1 s, travel whole cm. */
export const FORMS = {
  angleDeg: { unit: 'deg', decimals: 0 },
  seconds: { unit: 's', decimals: 1 },
  travelCm: { unit: 'cm', decimals: 0 },
  upperArms: { unit: 'upper-arm lengths', decimals: 2 },
  share: { unit: '%', decimals: 0, factor: 100 },
  driftDegPer10s: { unit: 'deg per 10 s', decimals: 1 },
  speedDegPerS: { unit: 'deg/s', decimals: 0 },
} as const satisfies Record<string, QuantityForm>;

const MINUS = '−';
/** Below this a half-width is arithmetic dust, not an interval. */
const NO_INTERVAL = 1e-9;

/** A bare figure in a form, without its unit; "−" for below zero, never "−0". */
export function figureWords(value: number, form: QuantityForm): string {
  const text = Math.abs(value * (form.factor ?? 1)).toFixed(form.decimals);
  return value < 0 && Number(text) !== 0 ? `${MINUS}${text}` : text;
}

/** A figure with its unit, for values that carry no interval ("2.4 s"). */
export function valueWords(value: number, form: QuantityForm): string {
  return form.unit === '' ? figureWords(value, form) : `${figureWords(value, form)} ${form.unit}`;
}

/**
 * The interval beside a figure: "± 4" where it is even, "(88 to 99)" where it is not, empty where there is none.
 * The half-width is rounded up, so that what is shown is never narrower than what was measured.
 */
export function intervalWords(measured: Measured, form: QuantityForm): string {
  if (!isMeasured(measured)) return '';
  const { value, low, high } = measured;
  const factor = form.factor ?? 1;
  const step = 10 ** -form.decimals;
  const below = (value - low) * factor;
  const above = (high - value) * factor;
  if (Math.max(below, above) < NO_INTERVAL) return '';
  if (Math.abs(above - below) > step / 2) {
    return `(${figureWords(low, form)} to ${figureWords(high, form)})`;
  }
  const steps = Math.ceil(Math.max(below, above) / step - NO_INTERVAL);
  return `± ${(steps * step).toFixed(form.decimals)}`;
}

/** A value as it is read: "92 deg ± 4", "−3 deg (−9 to 1)" or "not measured: hand not seen". */
export function measuredWords(measured: Measured, form: QuantityForm): string {
  if (!isMeasured(measured)) return `not measured: ${reasonWords(measured.notMeasured)}`;
  const interval = intervalWords(measured, form);
  return interval === ''
    ? valueWords(measured.value, form)
    : `${valueWords(measured.value, form)} ${interval}`;
}

/** A moment of a set: "4.20 s", from a minute on "1:04.20"; hundredths, since frames lie closer than tenths. */
export function momentWords(seconds: number): string {
  const hundredths = Math.round(seconds * 100);
  if (hundredths < 6000) return `${(hundredths / 100).toFixed(2)} s`;
  const minutes = Math.floor(hundredths / 6000);
  return `${minutes}:${((hundredths % 6000) / 100).toFixed(2).padStart(5, '0')}`;
}

/** A length of time as it is read: "42 s", "3 min 5 s", "1 h 2 min". Seconds at least 0. */
export function durationWords(seconds: number): string {
  const whole = Math.round(seconds);
  if (whole < 60) return `${whole} s`;
  if (whole < 3600) {
    const rest = whole % 60;
    return rest === 0 ? `${whole / 60} min` : `${Math.floor(whole / 60)} min ${rest} s`;
  }
  const minutes = Math.round(whole / 60);
  return `${Math.floor(minutes / 60)} h ${minutes % 60} min`;
}
