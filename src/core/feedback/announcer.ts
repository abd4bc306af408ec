/** What a tone says. Each has its own rhythm, so that they are told apart without a sense of pitch. */
export type Tone =
  | 'count-in'
  | 'start'
  | 'hold-begins'
  | 'hold-ends'
  | 'repetition'
  /** Something about the movement is to be changed; the caption says what. */
  | 'correction'
  | 'information'
  | 'praise'
  /** What the plan asked of the set is done. */
  | 'asked-done'
  /** The rest between two sets has run its time. */
  | 'rest-over'
  | 'stop';

/** How it is to sound: what the settings say. */
export interface SoundWish {
  /** 0 silent to 1 as loud as the machine is set. */
  readonly volume: number;
  /** The voice that was chosen, by its address; null for the machine's own choice. */
  readonly voiceId: string | null;
  /** The language in which the voice is to speak, as "en-GB"; null for any English. */
  readonly voiceLanguage: string | null;
}

/** A voice of this machine. */
export interface VoiceChoice {
  readonly id: string;
  readonly name: string;
  /** As "en-GB". */
  readonly language: string;
}

/** Speaks and sounds. Nothing is lost when it cannot: captions always say the same. */
export interface Announcer {
  /**
   * Speaks on this machine alone. "now" drops what was being said, "after" waits for it. False when no voice is there: then
   * nothing is said.
   */
  say(words: string, when: 'now' | 'after'): boolean;
  /** True from say() until the words are over or dropped. */
  readonly isSpeaking: boolean;
  tone(tone: Tone): void;
  /** The voices that speak without a network. Browsers may find them late: changed is called when they do. */
  voices(): readonly VoiceChoice[];
  onVoices(changed: () => void): void;
  /** Ends all sound. */
  quiet(): void;
}
