import type { EntryContent, LiveMessage, RecordMessage } from '../core/consult/messages.ts';

/** Where both sides come together again. */
export type ReturnWay = Omit<Extract<RecordMessage, { kind: 'return-way' }>, 'kind'>;

/** What a side of a consult does with what comes. */
export interface LineEars {
  /** isDue: false for what came so late that it is only noted. */
  readonly onEntry: (content: EntryContent, isDue: boolean) => void;
  readonly onLive: (message: LiveMessage) => void;
  /** Both sides have said that the check phrase is the same; again after each new link. */
  readonly onJoined: () => void;
  readonly onEnd: () => void;
}

/** Hears of what both sides need to come together again. */
export interface ReturnEars {
  /** By the therapist's side, when both have joined. */
  readonly onJoined: () => void;
  readonly onReturnWay: (way: ReturnWay) => void;
  readonly onEnd: () => void;
}
