import type { CameraChoice } from '../../core/session/source-opener.ts';

/**
 * The cameras, in the browser's order; empty when there is none or the browser hides them. Cameras are numbered until
 * the person has allowed one once, because browsers hide names before.
 */
export async function listCameras(): Promise<readonly CameraChoice[]> {
  if (!('mediaDevices' in navigator)) return [];
  const devices = await navigator.mediaDevices.enumerateDevices().catch(() => []);
  return devices
    .filter(({ kind }) => kind === 'videoinput')
    .map(({ deviceId, label }, index) => ({
      id: deviceId,
      label: label === '' ? `Camera ${String(index + 1)}` : label,
    }));
}
