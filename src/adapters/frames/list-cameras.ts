/** A camera of this machine. */
export interface Camera {
  readonly deviceId: string;
  /** Its name; a number until the person has allowed a camera once, because browsers hide names before. */
  readonly label: string;
}

/** The cameras, in the browser's order; empty when there is none or the browser hides them. */
export async function listCameras(): Promise<readonly Camera[]> {
  if (!('mediaDevices' in navigator)) return [];
  const devices = await navigator.mediaDevices.enumerateDevices().catch(() => []);
  return devices
    .filter(({ kind }) => kind === 'videoinput')
    .map(({ deviceId, label }, index) => ({
      deviceId,
      label: label === '' ? `Camera ${String(index + 1)}` : label,
    }));
}
