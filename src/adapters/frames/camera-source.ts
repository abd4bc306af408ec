import type { OpenedSource } from '../../core/pose/frame-source.ts';
import { deviceProblem } from './device-failure.ts';
import { liveSource } from './live-source.ts';

/**
 * Opens a camera: the one with the given id, or the browser's choice for null. The person is asked by the browser.
 * Never rejects: what the browser refuses is a problem.
 */
export async function openCamera(deviceId: string | null): Promise<OpenedSource> {
  // Browsers hide cameras from pages that came over an open line from another machine.
  if (!('mediaDevices' in navigator)) return { ok: false, problem: 'not-secure' };
  try {
    const stream = await navigator.mediaDevices.getUserMedia({
      audio: false,
      video: {
        width: { ideal: 1280 },
        height: { ideal: 720 },
        frameRate: { ideal: 30 },
        ...(deviceId === null ? {} : { deviceId: { exact: deviceId } }),
      },
    });
    const label = stream.getVideoTracks()[0]?.label ?? '';
    return {
      ok: true,
      source: liveSource(stream, { kind: 'camera', label, whenEnded: 'camera-unplugged', framing: null }),
    };
  } catch (error) {
    return { ok: false, problem: deviceProblem(error, 'camera') };
  }
}
