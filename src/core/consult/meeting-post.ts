import type { Meeting } from './meeting.ts';

/** Why nothing can be passed on: no server answers here, somebody else waits at the place, or the server refuses. */
export type PostProblem = 'no-server' | 'taken' | 'refused';

/** What a post at a server tells. */
export interface PostEars {
  /** Texts can be passed on; again after the way to the server was gone. */
  readonly onOpen: () => void;
  readonly onText: (from: string, sealed: string) => void;
  /** Nobody waits where a text was sent to. */
  readonly onNobody: () => void;
  readonly onProblem: (problem: PostProblem) => void;
}

/** A place at a server that passes texts on between two sides. It tries to stay there until it is closed. */
export interface MeetingPost {
  /** False when the server cannot be reached now. */
  send(to: string, sealed: string): boolean;
  close(): void;
}

/** Who sealed a text: a text of this side that comes back is none of the other's. */
export type SealedBy = 'host' | 'guest';

/** Seals the texts of one meeting. */
export interface Sealer {
  seal(by: SealedBy, text: string): Promise<string>;
  /** Null for what was not sealed by that side of this meeting. */
  unseal(by: SealedBy, sealed: string): Promise<string | null>;
}

/** How two sides meet at a server. */
export interface Meetings {
  /** The origin of the server, to be shown. */
  readonly origin: string;
  open(place: string, ears: PostEars): MeetingPost;
  sealerOf(meeting: Meeting): Promise<Sealer>;
}
