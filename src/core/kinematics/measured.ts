import { z } from 'zod';

/**
 * Why a value could not be had. One list for frames, repetitions, holds, records and screens; the sentence for each
 * stands in feedback/reasons.ts.
 */
export const NOT_MEASURED_REASONS = [
  'nobody',
  'arm-not-seen',
  'trunk-not-seen',
  'legs-not-seen',
  'hand-not-seen',
  'hand-too-small',
  'outside-picture',
  'too-small',
  'wrong-side',
  'two-people',
  'too-oblique',
  'tracking-jump',
  'sides-exchanged',
  'gap',
  'no-stature',
  'too-uncertain',
  'too-short',
  'not-applicable',
] as const;

/** A reason from NOT_MEASURED_REASONS. */
export type NotMeasuredReason = (typeof NOT_MEASURED_REASONS)[number];

/** A value with its 95 % interval (low and high in the value's unit), or "not measured" with the reason. */
export const measuredSchema = z.union([
  z.object({ value: z.number(), low: z.number(), high: z.number() }),
  z.object({ notMeasured: z.enum(NOT_MEASURED_REASONS) }),
]);

/** A value with its 95 % interval, or the reason why there is none. The unit stands in the name of the field. */
export type Measured = z.infer<typeof measuredSchema>;

/** A value that was had. */
export type Estimate = Extract<Measured, { value: number }>;

/** True when there is a value. */
export function isMeasured(measured: Measured): measured is Estimate {
  return 'value' in measured;
}

/** "Not measured", with its reason. */
export function notMeasured(reason: NotMeasuredReason): Measured {
  return { notMeasured: reason };
}

/** A value with a symmetric 95 % interval of the given half-width, both in the value's unit; halfWidth at least 0. */
export function estimate(value: number, halfWidth: number): Estimate {
  return { value, low: value - halfWidth, high: value + halfWidth };
}

/** The bare value, or null. */
export function valueOf(measured: Measured): number | null {
  return isMeasured(measured) ? measured.value : null;
}
