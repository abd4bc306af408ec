import type { Consent, ConsultSide } from './messages.ts';
import type { CourseLine } from './course.ts';

/**
 * Whether the therapist's machine may measure the picture that it receives: the picture must be sent, be measured, and what comes of it be kept
 * there, because it is recorded where it is measured.
 */
export function mayMeasureThere({ picture, measuring, record }: Consent): boolean {
  return picture && measuring && record;
}

/**
 * On whose machine is measured, as the course says it: so it is the same on both. The patient's, until that has let it be elsewhere, and again
 * when it takes back what that needs.
 */
export function measuredAt(lines: readonly CourseLine[]): ConsultSide {
  return lines.reduce<ConsultSide>((at, { entry: { content } }) => {
    if (content.what === 'measured-at') return content.at;
    return content.what === 'consent' && !mayMeasureThere(content.consent) ? 'patient' : at;
  }, 'patient');
}
