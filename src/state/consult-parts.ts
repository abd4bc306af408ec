import type { OpenFaceAndVoice } from '../core/consult/own-media.ts';
import type { LinkEars, PeerLink } from '../core/consult/peer-link.ts';

/** What a consult needs from outside; handed in by main.ts. */
export interface ConsultParts {
  readonly openLink: (role: 'inviting' | 'joining', ears: LinkEars) => PeerLink;
  readonly openFaceAndVoice: OpenFaceAndVoice;
  /** Whether cues can be spoken here. */
  readonly hasVoice: () => boolean;
  /** A clock that only rises, seconds; its zero does not matter. */
  readonly nowSeconds: () => number;
  /** The moment of the wall clock with its offset. */
  readonly moment: () => string;
  readonly newId: () => string;
  /** 32 bytes that nobody can guess, as 64 hexadecimal digits. */
  readonly newNonce: () => string;
}
