import type { EntryContent, LiveMessage, RecordMessage } from '../core/consult/messages.ts';
import type { MessageProblem } from '../core/consult/read-message.ts';

/** Where both sides come together again. */
export type ReturnWay = Omit<Extract<RecordMessage, { kind: 'return-way' }>, 'kind'>;

/** What a side of a consult does with what comes. */
export interface LineEars {
  /** isDue: false for what came so late that it is only noted. */
  readonly onEntry: (content: EntryContent, isDue: boolean) => void;
  readonly onLive: (message: LiveMessage) => void;
  /** What the other side shows has changed, or its picture comes by another way. */
  readonly onOtherMedia: () => void;
  /** A line that was checked is down. */
  readonly onBroken: () => void;
  /**
   * Both sides have said that the check phrase is the same; again after each new link. isOtherPage: the other side's page is not the one that
   * was there before, and knows nothing of what was asked.
   */
  readonly onJoined: (isOtherPage: boolean) => void;
  /** A part of a record; the problem where it is refused. */
  readonly onParcel: (text: string) => MessageProblem | null;
  /** What became of a record that was passed on. */
  readonly onParcelKept: (number: number, isKept: boolean) => void;
  /**
   * The consult is over: nothing is seen, heard or measured from now on. The line stays until what this returns settles, or the other side
   * leaves, so that a record on its way still arrives.
   */
  readonly onEnd: () => Promise<void>;
  /** The line is no more: nothing comes or goes. */
  readonly onGone: () => void;
}

/** Hears of what both sides need to come together again. */
export interface ReturnEars {
  /** By the therapist's side, when both have joined. */
  readonly onJoined: () => void;
  readonly onReturnWay: (way: ReturnWay) => void;
  readonly onEnd: () => void;
}
