import type { Announcer } from '../core/feedback/announcer.ts';
import type { OpenedSource } from '../core/pose/frame-source.ts';
import type { Preferences, PreferencesStore } from '../core/session/preferences.ts';
import type { LiveParts } from './live-parts.ts';
import type { LiveSession } from './live-session.svelte.ts';

/** A session of its own that measures a received picture. */
export interface ReceivedSession {
  readonly live: LiveSession;
  /** Opens this picture in the session. Settles when it ends. */
  open(stream: MediaStream): Promise<void>;
}

/** The cues are for whoever is seen: they are said there, not here. */
const SILENT: Announcer = {
  isSpeaking: false,
  say: () => false,
  tone: () => undefined,
  voices: () => [],
  onVoices: () => undefined,
  quiet: () => undefined,
};

/** What was chosen on this machine is another person's. Nothing begins or ends by itself: the therapist sees who is measured, and asks. */
const FOR_ANOTHER: Partial<Preferences> = {
  voice: false,
  tones: false,
  startsByItself: false,
  endsByItself: false,
  handPauses: false,
};

/** How a session is made: with the parts, and by what was chosen. */
export type NewSession = (parts: LiveParts, chosen: PreferencesStore) => LiveSession;

/** Makes the session. openReceived: makes a source of a received picture. */
export function receivedSession(
  parts: LiveParts,
  openReceived: (stream: MediaStream) => OpenedSource,
  newSession: NewSession,
): ReceivedSession {
  let picture: MediaStream | null = null;
  const sources: LiveParts['sources'] = {
    ...parts.sources,
    openCamera: () =>
      Promise.resolve(picture === null ? { ok: false, problem: 'no-camera' } : openReceived(picture)),
  };
  const chosen: PreferencesStore = { read: () => FOR_ANOTHER, write: () => undefined };
  const live = newSession({ ...parts, sources, announcer: SILENT, videos: null }, chosen);
  return {
    live,
    open(stream) {
      picture = stream;
      return live.openCamera();
    },
  };
}
