import type { OpenedSource } from '../../core/pose/frame-source.ts';
import { PictureFraming } from '../../core/pose/picture-framing.ts';
import { deviceProblem } from './device-failure.ts';
import { liveSource } from './live-source.ts';

/**
 * Lets the person choose a window, a tab or a screen to watch, for example a running video call. Must be called from a
 * click. Never rejects: what is refused is a problem.
 */
export async function openSharedWindow(): Promise<OpenedSource> {
  // Missing over an open line and in most phones' browsers.
  if (!('mediaDevices' in navigator) || !('getDisplayMedia' in navigator.mediaDevices))
    return { ok: false, problem: 'not-secure' };
  try {
    const stream = await navigator.mediaDevices.getDisplayMedia({
      audio: false,
      video: { frameRate: { ideal: 30 } },
    });
    const label = stream.getVideoTracks()[0]?.label ?? '';
    return {
      ok: true,
      source: liveSource(stream, {
        kind: 'shared-window',
        label,
        whenEnded: 'sharing-ended',
        framing: new PictureFraming(),
      }),
    };
  } catch (error) {
    return { ok: false, problem: deviceProblem(error, 'sharing') };
  }
}
