import type { SourceProblem } from '../../core/pose/frame-source.ts';

/** What was asked for when it failed. */
type Asked = 'camera' | 'sharing';

const CAMERA: Readonly<Record<string, SourceProblem>> = {
  NotFoundError: 'no-camera',
  DevicesNotFoundError: 'no-camera',
  OverconstrainedError: 'no-camera',
  NotAllowedError: 'permission-refused',
  SecurityError: 'permission-refused',
  NotReadableError: 'camera-in-use',
  AbortError: 'camera-in-use',
};

/**
 * The problem behind what getUserMedia or getDisplayMedia threw: the only place that knows the browsers' names.
 * Source of the names: W3C Media Capture and Streams, getUserMedia; W3C Screen Capture, getDisplayMedia.
 */
export function deviceProblem(error: unknown, asked: Asked): SourceProblem {
  const name = error instanceof Error ? error.name : '';
  if (asked === 'sharing') return 'sharing-refused';
  return CAMERA[name] ?? 'source-unknown';
}
