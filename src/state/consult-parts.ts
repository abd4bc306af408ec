import type { Meetings } from '../core/consult/meeting-post.ts';
import type { LeftSessions } from '../core/consult/left-session.ts';
import type { OpenFaceAndVoice } from '../core/consult/own-media.ts';
import type { ParcelPacking } from '../core/consult/parcel-packing.ts';
import type { LinkEars, PeerLink } from '../core/consult/peer-link.ts';
import type { ReturnTickets } from '../core/consult/return-ticket.ts';
import type { Stores } from '../core/exchange/take-item.ts';
import type { PlanStore } from '../core/plan/plan-store.ts';

/** What a line needs of it. */
export type LineParts = Omit<
  ConsultParts,
  'meetings' | 'tickets' | 'left' | 'packing' | 'loadStores' | 'plans' | 'openFaceAndVoice'
>;

/** What a consult needs from outside; handed in by main.ts. */
export interface ConsultParts {
  readonly openLink: (role: 'inviting' | 'joining', ears: LinkEars) => PeerLink;
  /** The server that passes the two texts on. */
  readonly meetings: Meetings;
  readonly tickets: ReturnTickets;
  readonly left: LeftSessions;
  readonly openFaceAndVoice: OpenFaceAndVoice;
  readonly packing: ParcelPacking;
  /** Where records and what was said in a consult are kept. */
  readonly loadStores: () => Promise<Stores>;
  /** The plans of this machine. */
  readonly plans: PlanStore;
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
