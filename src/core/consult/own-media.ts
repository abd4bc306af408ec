import type { SourceProblem } from '../pose/frame-source.ts';
import type { SentMedia } from './peer-link.ts';

/** A camera and a microphone for the consult, or the problem that keeps them closed. */
export type OpenedMedia =
  { readonly ok: true; readonly tracks: SentMedia } | { readonly ok: false; readonly problem: SourceProblem };

/** Opens what this side shows and lets hear. */
export type OpenFaceAndVoice = (wish: 'face-and-voice' | 'voice') => Promise<OpenedMedia>;
