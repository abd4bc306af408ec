import type { ConnectionFacts } from './connection-facts.ts';
import type { Fingerprints } from './check-phrase.ts';
import type { LeftOut } from './line-quality.ts';
import type { RecordMessage } from './messages.ts';

/** The channels of a link: record in order and without loss, live as quick as it goes, parcel in order and behind the others. */
export type LinkChannel = 'record' | 'live' | 'parcel';

/** A description with picture and sound. */
export type MediaMessage = Extract<RecordMessage, { kind: 'media' }>;

/** What this side sends to be seen and heard; null for nothing. */
export interface SentMedia {
  readonly picture: MediaStreamTrack | null;
  readonly sound: MediaStreamTrack | null;
  /** The other side measures the picture: its detail counts for more than how smoothly it runs. */
  readonly isMeasured?: boolean;
}

/** Neither picture nor sound. */
export const NOTHING_SENT: SentMedia = { picture: null, sound: null };

/** What a link tells. */
export interface LinkEars {
  /** Both channels are open, or one of them is no more. */
  readonly onLine: (isUp: boolean) => void;
  readonly onText: (channel: LinkChannel, text: string) => void;
  /** What comes to be seen and heard; null for nothing. */
  readonly onMedia: (stream: MediaStream | null) => void;
  /** A description to be passed on. */
  readonly onDescription: (message: MediaMessage) => void;
  /** What this side leaves out because the line is poor. */
  readonly onLeft: (left: LeftOut) => void;
}

/** A line between two browsers. Nothing of it is given to anybody else. */
export interface PeerLink {
  /** First step of the inviting side: how it can be reached. Rejects where the browser cannot link up. */
  invite(): Promise<ConnectionFacts>;
  /** First step of the joining side, with the facts of the inviting one: how this one can be reached. */
  join(facts: ConnectionFacts): Promise<ConnectionFacts>;
  /** Last step of the inviting side. */
  accept(facts: ConnectionFacts): Promise<void>;
  /** Both certificates; null before both are known. */
  readonly fingerprints: Fingerprints | null;
  /** The line is down for good: the other side's page is gone, or no way is left. */
  readonly isGone: boolean;
  /**
   * False when it could not be sent: the line is down, or too much waits on the parcels' channel. On the live channel a newer text takes
   * the place of one that still waits.
   */
  send(channel: LinkChannel, text: string): boolean;
  /** Makes the ways for picture and sound; by the inviting side, once, when both sides have joined. */
  openMedia(): Promise<void>;
  /** What is sent from now on to be seen and heard. */
  show(media: SentMedia): void;
  /** Holds what comes to be seen back for at least so long, milliseconds, where the browser can; sound is not held. */
  holdPicture(ms: number): void;
  /** Takes in a description of the other side. False when it is refused: it names another certificate, or cannot be read. */
  takeDescription(message: MediaMessage): Promise<boolean>;
  close(): void;
}
