import type { LiveEvent, LiveJudge } from '../core/exercises/live-judge.ts';
import type { Announcer } from '../core/feedback/announcer.ts';
import { NO_COURSE, stepCueCourse, type CueCourse, type CueTask } from '../core/feedback/cue-course.ts';
import { stepCues } from '../core/feedback/cue-policy.ts';
import { cueInWords, CUE_TABLE, interrupts, type Cue } from '../core/feedback/cue-table.ts';
import type { CueCause, CueName, GivenCue } from '../core/session/cue-log.ts';
import type { Settings } from './settings.svelte.ts';

/** What the desk needs from outside. */
interface CueDeskParts {
  readonly announcer: Announcer;
  readonly settings: Settings;
  /** Keeps a cue that was given. */
  readonly note: (cue: GivenCue) => void;
}

/** Gives the cues: shows, speaks or sounds them, and has them kept. */
export class CueDesk {
  readonly #parts: CueDeskParts;
  #course: CueCourse = NO_COURSE;
  #shown = $state.raw<Cue | null>(null);

  constructor(parts: CueDeskParts) {
    this.#parts = parts;
  }

  /** The one cue that stands on the screen, or null. */
  get shown(): Cue | null {
    return this.#shown;
  }

  /** Another source: what was said of the one before is forgotten. */
  forget(): void {
    this.#course = NO_COURSE;
    this.#shown = null;
  }

  /** A set begins: what was said in another one is forgotten, and the word that began it stays its time. */
  begin(): void {
    const { shown } = this.#course.cues;
    this.#course = { ...NO_COURSE, cues: { ...NO_COURSE.cues, shown } };
  }

  /** Takes in what was just judged, in the clock of the pictures. */
  step(
    judged: { readonly judge: LiveJudge; readonly events: readonly LiveEvent[] },
    task: CueTask,
    timeSeconds: number,
  ): void {
    const { isSpeaking } = this.#parts.announcer;
    const { course, given } = stepCueCourse(this.#course, judged, task, { timeSeconds, isSpeaking });
    this.#course = course;
    if (given !== null) this.#give(given, timeSeconds);
    const shown = course.cues.shown?.cue ?? null;
    if (shown !== this.#shown) this.#shown = shown;
  }

  /** Gives a cue that no picture asked for: around a set, or at the wish of the person. */
  announce(name: CueName, why: CueCause, timeSeconds: number): void {
    const cue = cueInWords(name, why);
    this.#course = {
      ...this.#course,
      cues: { ...this.#course.cues, shown: { cue, sinceSeconds: timeSeconds } },
    };
    this.#shown = cue;
    this.#give(cue, timeSeconds);
  }

  /** Takes a cue off the screen when its time is over, while nothing is judged. */
  expire(timeSeconds: number): void {
    if (this.#shown === null) return;
    const { isSpeaking } = this.#parts.announcer;
    const { state } = stepCues(this.#course.cues, [], { timeSeconds, isSpeaking });
    this.#course = { ...this.#course, cues: { ...state, waiting: [] } };
    this.#shown = state.shown?.cue ?? null;
  }

  #give(cue: Cue, timeSeconds: number): void {
    const { name, words, spoken, why } = cue;
    const { announcer, settings, note } = this.#parts;
    const when = interrupts(name) ? 'now' : 'after';
    const isSaid = settings.now.voice && announcer.say(spoken, when);
    if (!isSaid && settings.now.tones) announcer.tone(CUE_TABLE[name].tone);
    note({
      timeSeconds,
      cue: name,
      words,
      by: isSaid ? 'voice' : settings.now.tones ? 'tone' : 'caption',
      why,
    });
  }
}
