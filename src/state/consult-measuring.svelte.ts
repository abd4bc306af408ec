import type { EntryContent, MeasuredPicture, Prescription } from '../core/consult/messages.ts';
import type { FrameTiming } from '../core/pose/pose-service.ts';
import type { FigureDrawing } from '../core/pose/figure-surface.ts';
import type { ConsultRecording } from './consult-recording.ts';
import type { ConsultShowing } from './consult-showing.svelte.ts';
import type { LiveSession } from './live-session.svelte.ts';

/** What measuring in a consult stands on. */
interface MeasuringParts {
  readonly live: LiveSession;
  readonly recording: ConsultRecording;
  /** Remembers what can be shown once more. */
  readonly showing: ConsultShowing;
  /** Opens the source in the live session. Settles when it ends. */
  readonly open: () => Promise<void>;
  /** The person's height where this machine knows it, centimetres. */
  readonly statureCm: () => number | null;
  /** Adds to the course. */
  readonly add: (content: EntryContent) => void;
  /** Told of each picture; null where nothing was measured yet. */
  readonly onPicture: (measured: MeasuredPicture | null) => void;
  readonly nowSeconds: () => number;
}

/** Measures in a consult what was asked for, on the machine of either side: its sets are entries of the course, its figures go out. */
export class ConsultMeasuring {
  readonly #parts: MeasuringParts;
  #unwatch: () => void = () => undefined;

  constructor(parts: MeasuringParts) {
    this.#parts = parts;
  }

  /** Opens the source for what is asked. Settles when the source ends. */
  async open(asked: Prescription): Promise<void> {
    const { live, recording, showing, add, statureCm, onPicture } = this.#parts;
    const { exercise, side, variant, thresholds } = asked;
    live.askFor({
      task: {
        exercise: { exercise, side, variant, statureCm: statureCm() },
        thresholds,
        plan: null,
      },
      painBefore: null,
      nextSet: () => null,
      // A set begins when the therapist asks for it, never by itself.
      mayBegin: () => false,
      onOpen: () => undefined,
      onBegin: () => {
        showing.beginSet();
        recording.keepNotes();
        add({ what: 'set-begun', setNumber: live.keeping.setCount });
      },
      onSet: ({ index, summary, findings }) => {
        add({
          what: 'set-ended',
          setNumber: index + 1,
          inRangeSeconds: summary.holdInRangeSeconds,
          repetitions: summary.repetitions,
          partialRepetitions: summary.partialRepetitions,
          loweringSeconds: summary.loweringSecondsMedian,
          parts: showing.endSet(index + 1, findings.judgement),
        });
        void recording.passOn();
      },
    });
    showing.beginSession();
    this.#unwatch();
    this.#unwatch = live.stream.watch((_picture, { widthPx, heightPx }, overlay, timing) => {
      onPicture(this.#measured(exercise, { widthPx, heightPx, overlay }, timing));
    });
    await this.#parts.open();
  }

  /** Closes the source and the session. The session's id where one was recorded and is kept. isLast: nothing is measured here after it. */
  async close(isLast: boolean): Promise<string | null> {
    const { live, recording } = this.#parts;
    if (live.keeping.setCount > 0) {
      const kept = await live.endSession();
      if (kept !== null) await recording.sessionEnded(kept, isLast);
      return kept;
    }
    if (live.stage !== 'none') live.close();
    return null;
  }

  /** Nothing is measured here any more. */
  end(): void {
    this.#unwatch();
    this.#parts.live.askFor(null);
  }

  #measured(
    exercise: Prescription['exercise'],
    { widthPx, heightPx, overlay }: FigureDrawing,
    { latencyMs }: FrameTiming,
  ): MeasuredPicture | null {
    const { live, showing, nowSeconds } = this.#parts;
    const { latest, judged, cue } = live.readout;
    if (latest === null) return null;
    const { elbowFlexionDeg } = latest;
    if (judged !== null)
      showing.see(
        { timeSeconds: latest.timeSeconds, elbowFlexionDeg, joints: overlay },
        { widthPx, heightPx },
      );
    return {
      timeSeconds: latest.timeSeconds,
      capturedMs: latencyMs === null ? null : Math.max(0, nowSeconds() * 1000 - latencyMs),
      widthPx,
      heightPx,
      exercise,
      elbowFlexionDeg,
      reason: latest.reason,
      phase: judged?.phase ?? 'rest',
      isReady: live.stage === 'watching' && !live.speed.isChanging,
      isInSet: judged !== null,
      cue: cue === null ? null : { name: cue.name, words: cue.words, spoken: cue.spoken },
      isTooSlow: live.speed.isTooSlow,
      joints: overlay,
      inRangeSeconds: judged?.inRangeSeconds ?? 0,
      repetitions: judged?.repetitions ?? 0,
      partialRepetitions: judged?.partialRepetitions ?? 0,
      loweringSeconds: judged?.loweringSeconds ?? null,
    };
  }
}
