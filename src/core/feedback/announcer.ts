/** What a tone says. Each has its own rhythm, so that they are told apart without a sense of pitch. */
export type Tone =
  | 'count-in'
  | 'start'
  | 'hold-begins'
  | 'hold-ends'
  | 'repetition'
  /** What the plan asked of the set is done. */
  | 'asked-done'
  /** The rest between two sets has run its time. */
  | 'rest-over'
  | 'stop';

/** Speaks and sounds. Nothing is lost when it cannot: captions always say the same. */
export interface Announcer {
  /** Speaks at once and drops what was being said: two voices at a time are none. */
  say(words: string): void;
  tone(tone: Tone): void;
  /** Ends all sound. */
  quiet(): void;
}
