import type { Announcer, SoundWish, Tone, VoiceChoice } from '../../core/feedback/announcer.ts';

/** A tone's beats: when each starts after the call, how long it lasts (seconds), and its pitch (hertz). */
const BEATS: Readonly<Record<Tone, readonly (readonly [start: number, length: number, hertz: number])[]>> = {
  'count-in': [[0, 0.08, 660]],
  start: [[0, 0.5, 880]],
  'hold-begins': [
    [0, 0.08, 660],
    [0.12, 0.2, 880],
  ],
  'hold-ends': [
    [0, 0.25, 660],
    [0.32, 0.08, 520],
    [0.46, 0.08, 520],
  ],
  repetition: [[0, 0.06, 740]],
  correction: [
    [0, 0.25, 520],
    [0.3, 0.25, 440],
  ],
  information: [[0, 0.25, 660]],
  praise: [
    [0, 0.06, 740],
    [0.1, 0.06, 880],
    [0.2, 0.06, 990],
  ],
  'asked-done': [
    [0, 0.08, 880],
    [0.12, 0.08, 880],
    [0.24, 0.3, 660],
  ],
  'rest-over': [
    [0, 0.2, 740],
    [0.5, 0.2, 740],
    [1, 0.2, 740],
  ],
  stop: [
    [0, 0.12, 440],
    [0.2, 0.12, 440],
    [0.4, 0.12, 440],
    [0.6, 0.4, 440],
  ],
};

/** Of a tone at full volume, share of what the machine can give. */
const LOUDNESS = 0.3;
/** Some voices never tell that they have ended: after so long they count as silent, milliseconds. */
const LONGEST_SPEECH_MS = 10_000;
/** The words are English, so that an English voice is taken where none was chosen. */
const LANGUAGE_OF_WORDS = 'en';
/** Time in which a beat swells and fades, seconds: without it every beat clicks. */
const FADE_SECONDS = 0.015;

/** Tones through the browser's audio graph and words through its speech, both on this machine only. */
export class BrowserAnnouncer implements Announcer {
  readonly #wish: () => SoundWish;
  #context: AudioContext | null = null;
  /** What is being said or waits to be. */
  readonly #open = new Map<SpeechSynthesisUtterance, number>();

  /** wish: how it is to sound, asked anew for everything that sounds. */
  constructor(wish: () => SoundWish) {
    this.#wish = wish;
  }

  get isSpeaking(): boolean {
    const oldest = performance.now() - LONGEST_SPEECH_MS;
    return [...this.#open.values()].some((saidAtMs) => saidAtMs > oldest);
  }

  say(words: string, when: 'now' | 'after'): boolean {
    const wish = this.#wish();
    const voice = chosenVoice(wish);
    if (voice === null) return false;
    if (when === 'now') this.#hush();
    const utterance = new SpeechSynthesisUtterance(words);
    utterance.voice = voice;
    utterance.lang = voice.lang;
    utterance.volume = wish.volume;
    const over = (): void => void this.#open.delete(utterance);
    utterance.addEventListener('end', over);
    utterance.addEventListener('error', over);
    this.#open.set(utterance, performance.now());
    speechSynthesis.speak(utterance);
    return true;
  }

  tone(tone: Tone): void {
    const { volume } = this.#wish();
    if (volume <= 0) return;
    this.#context ??= new AudioContext();
    const context = this.#context;
    if (context.state === 'suspended') void context.resume();
    for (const [start, length, hertz] of BEATS[tone])
      beat(context, { at: context.currentTime + start, length, hertz, loudness: LOUDNESS * volume });
  }

  voices(): readonly VoiceChoice[] {
    return localVoices().map(({ voiceURI, name, lang }) => ({
      id: voiceURI,
      name,
      language: tagOf(lang),
    }));
  }

  onVoices(changed: () => void): void {
    if ('speechSynthesis' in window) speechSynthesis.addEventListener('voiceschanged', changed);
  }

  quiet(): void {
    this.#hush();
    void this.#context?.close();
    this.#context = null;
  }

  #hush(): void {
    if ('speechSynthesis' in window) speechSynthesis.cancel();
    this.#open.clear();
  }
}

/** A voice that speaks over the network would send the words away; only voices of this machine are used. */
function localVoices(): readonly SpeechSynthesisVoice[] {
  if (!('speechSynthesis' in window)) return [];
  return speechSynthesis.getVoices().filter(({ localService }) => localService);
}

/** The chosen voice where it is still there, else one of the chosen language, else any English one; else none. */
function chosenVoice({ voiceId, voiceLanguage }: SoundWish): SpeechSynthesisVoice | null {
  const voices = localVoices();
  const of = (language: string): SpeechSynthesisVoice | undefined =>
    voices.find(({ lang }) => tagOf(lang).startsWith(language));
  return (
    voices.find(({ voiceURI }) => voiceURI === voiceId) ??
    (voiceLanguage === null ? undefined : of(voiceLanguage)) ??
    of(LANGUAGE_OF_WORDS) ??
    null
  );
}

/** Some browsers write "en_GB". */
function tagOf(language: string): string {
  return language.replace('_', '-');
}

function beat(
  context: AudioContext,
  { at, length, hertz, loudness }: { at: number; length: number; hertz: number; loudness: number },
): void {
  const oscillator = context.createOscillator();
  const gain = context.createGain();
  oscillator.frequency.value = hertz;
  gain.gain.setValueAtTime(0, at);
  gain.gain.linearRampToValueAtTime(loudness, at + FADE_SECONDS);
  gain.gain.setValueAtTime(loudness, at + length - FADE_SECONDS);
  gain.gain.linearRampToValueAtTime(0, at + length);
  oscillator.connect(gain).connect(context.destination);
  oscillator.start(at);
  oscillator.stop(at + length);
}
