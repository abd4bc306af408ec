import type { Announcer, Tone } from '../../core/feedback/announcer.ts';

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

const LOUDNESS = 0.25;
/** Time in which a beat swells and fades, seconds: without it every beat clicks. */
const FADE_SECONDS = 0.015;

/** Tones through the browser's audio graph and words through its speech, both on this machine only. */
export class BrowserAnnouncer implements Announcer {
  #context: AudioContext | null = null;

  say(words: string): void {
    if (!('speechSynthesis' in window)) return;
    speechSynthesis.cancel();
    // A voice that speaks over the network would send the words away; only voices of this machine are used.
    const voice = speechSynthesis
      .getVoices()
      .find(({ localService, lang }) => localService && lang.startsWith('en'));
    if (voice === undefined) return;
    const utterance = new SpeechSynthesisUtterance(words);
    utterance.voice = voice;
    speechSynthesis.speak(utterance);
  }

  tone(tone: Tone): void {
    this.#context ??= new AudioContext();
    const context = this.#context;
    if (context.state === 'suspended') void context.resume();
    for (const [start, length, hertz] of BEATS[tone])
      beat(context, context.currentTime + start, length, hertz);
  }

  quiet(): void {
    if ('speechSynthesis' in window) speechSynthesis.cancel();
    void this.#context?.close();
    this.#context = null;
  }
}

function beat(context: AudioContext, at: number, length: number, hertz: number): void {
  const oscillator = context.createOscillator();
  const gain = context.createGain();
  oscillator.frequency.value = hertz;
  gain.gain.setValueAtTime(0, at);
  gain.gain.linearRampToValueAtTime(LOUDNESS, at + FADE_SECONDS);
  gain.gain.setValueAtTime(LOUDNESS, at + length - FADE_SECONDS);
  gain.gain.linearRampToValueAtTime(0, at + length);
  oscillator.connect(gain).connect(context.destination);
  oscillator.start(at);
  oscillator.stop(at + length);
}
