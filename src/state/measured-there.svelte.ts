import { measuredAt } from '../core/consult/measured-at.ts';
import type { LiveCue, LiveMessage } from '../core/consult/messages.ts';
import type { Announcer } from '../core/feedback/announcer.ts';
import { CUE_TABLE, interrupts } from '../core/feedback/cue-table.ts';
import { sourceSentence } from '../core/feedback/source-problems.ts';
import type { FrameSource, OpenedSource } from '../core/pose/frame-source.ts';
import type { ConsultLine } from './consult-line.svelte.ts';
import type { Settings } from './settings.svelte.ts';

/** Figures change at most this often, seconds of the pictures' own time: quicker than this they cannot be read. */
const PUBLISH_SECONDS = 0.2;

/** What was measured so long ago is shown no longer, milliseconds: it would be taken for what is. */
const SILENCE_MS = 2_000;

/** What it stands on. */
interface ThereParts {
  readonly line: ConsultLine;
  readonly settings: Settings;
  readonly announcer: Announcer;
  /** Opens the camera chosen in the settings, to be sent only. */
  readonly openCamera: () => Promise<OpenedSource>;
}

/**
 * The patient's side while the therapist's machine measures: the camera's picture is sent and nothing is computed of it here; the figures that
 * come back are shown, and the cues that come with them are said.
 */
export class MeasuredThere {
  readonly #parts: ThereParts;
  #camera = $state.raw<FrameSource | null>(null);
  #wish = 0;
  #latest = $state.raw<LiveMessage | null>(null);
  #number = 0;
  #cue = $state.raw<LiveCue | null>(null);
  #problem = $state<string | null>(null);
  #silence: ReturnType<typeof setTimeout> | undefined;

  constructor(parts: ThereParts) {
    this.#parts = parts;
  }

  /** Whether this side lets the therapist's machine measure. */
  get isThere(): boolean {
    return measuredAt(this.#parts.line.course.lines) === 'therapist';
  }

  /** The camera that is sent and not measured here; null while none is. */
  get stream(): MediaStream | null {
    const feed = this.#camera?.feed;
    return feed?.kind === 'live' ? feed.stream : null;
  }

  /** What was measured last; null where nothing comes. */
  get latest(): LiveMessage | null {
    return this.#latest;
  }

  /** The program's cue that stands now, or null. */
  get cue(): LiveCue | null {
    return this.#cue;
  }

  get problem(): string | null {
    return this.#problem;
  }

  async openCamera(): Promise<void> {
    if (this.#camera !== null) return;
    this.#problem = null;
    this.#wish += 1;
    const wish = this.#wish;
    const opened = await this.#parts.openCamera();
    if (!opened.ok) {
      this.#problem = sourceSentence(opened.problem);
      return;
    }
    if (wish !== this.#wish) return opened.source.stop();
    this.#camera = opened.source;
    this.stream?.getVideoTracks()[0]?.addEventListener('ended', () => {
      if (this.#camera === opened.source) this.#problem = sourceSentence('camera-unplugged');
    });
  }

  /** Closes the camera and forgets what was measured there. */
  close(): void {
    this.#wish += 1;
    this.#camera?.stop();
    this.#camera = null;
    this.forget();
  }

  /** Takes what was measured in a picture. */
  take(message: LiveMessage): void {
    // One that was overtaken on its way would turn the clock back.
    if (!this.isThere || message.number <= this.#number) return;
    this.#number = message.number;
    clearTimeout(this.#silence);
    this.#silence = setTimeout(() => this.forget(), SILENCE_MS);
    this.#hear(message);
    const sinceSeconds = message.timeSeconds - (this.#latest?.timeSeconds ?? -Infinity);
    const isSoon = sinceSeconds >= 0 && sinceSeconds < PUBLISH_SECONDS;
    if (isSoon && this.#latest?.isInSet === message.isInSet) return;
    this.#latest = message;
  }

  /** Nothing comes: what was measured last is shown no longer. */
  forget(): void {
    clearTimeout(this.#silence);
    // Another page begins its numbers anew.
    this.#number = 0;
    this.#latest = null;
    this.#cue = null;
  }

  /** A cue that is new is said, unless it speaks of something past by now. */
  #hear({ cue, measuredMs }: LiveMessage): void {
    const isNew = cue !== null && (cue.name !== this.#cue?.name || cue.words !== this.#cue.words);
    if (cue === null || isNew) this.#cue = cue;
    if (cue === null || !isNew) return;
    const { settings, announcer, line } = this.#parts;
    const { tone, freshSeconds } = CUE_TABLE[cue.name];
    const ageMs = line.clock.ageMs(measuredMs);
    if (ageMs === null || ageMs > freshSeconds * 1000) return;
    const isSaid = settings.now.voice && announcer.say(cue.spoken, interrupts(cue.name) ? 'now' : 'after');
    if (!isSaid && settings.now.tones) announcer.tone(tone);
  }
}
