import type { OpenedMedia } from '../../core/consult/own-media.ts';
import { deviceProblem } from './device-failure.ts';

/** The picture is for looking at, not for measuring: small, so that the line has room for the other one. */
const FACE = { width: { ideal: 640 }, height: { ideal: 480 }, frameRate: { ideal: 24 } };

/** Opens what a consult shows and lets hear. Without a microphone a face comes alone. Never rejects. */
export async function openFaceAndVoice(wish: 'face-and-voice' | 'voice'): Promise<OpenedMedia> {
  if (!('mediaDevices' in navigator)) return { ok: false, problem: 'not-secure' };
  const voice = await ask({ audio: true });
  if (wish === 'voice') return voice;
  const face = await ask({ video: FACE });
  if (!face.ok || !voice.ok) return face;
  return { ok: true, tracks: { picture: face.tracks.picture, sound: voice.tracks.sound } };
}

async function ask(wish: MediaStreamConstraints): Promise<OpenedMedia> {
  try {
    const stream = await navigator.mediaDevices.getUserMedia(wish);
    const [picture = null] = stream.getVideoTracks();
    const [sound = null] = stream.getAudioTracks();
    return { ok: true, tracks: { picture, sound } };
  } catch (error) {
    return { ok: false, problem: deviceProblem(error, 'camera') };
  }
}
