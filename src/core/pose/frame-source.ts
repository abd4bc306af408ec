import type { PictureFraming } from './picture-framing.ts';
import type { Picture } from './pose-estimator.ts';

/** Where pictures come from; kept in the record. */
export type SourceKind = 'camera' | 'clip' | 'demo' | 'shared-window';

/** A picture with its own time. Valid until the consumer's promise settles; then the source may reuse it. */
export interface SourcePicture<P = Picture> {
  readonly picture: P;
  readonly widthPx: number;
  readonly heightPx: number;
  /** Capture or media time, seconds, strictly rising. */
  readonly timeSeconds: number;
  /** Mean brightness, 0 to 255, or null when not looked at in this picture. */
  readonly brightness: number | null;
  /** The picture is blank, because its tile was framed in a shared picture of another size: nobody is to be searched in it. */
  readonly isTileOff?: boolean;
}

/** Why a source ended. */
export type SourceEnd =
  | { readonly kind: 'finished' }
  | { readonly kind: 'stopped' }
  | { readonly kind: 'failed'; readonly problem: SourceProblem };

/** Everything that can go wrong with a source; the sentence for each stands in feedback/source-problems.ts. */
export type SourceProblem =
  | 'no-camera'
  | 'permission-refused'
  | 'camera-in-use'
  | 'camera-unplugged'
  | 'sharing-refused'
  | 'sharing-ended'
  | 'clip-damaged'
  | 'clip-empty'
  | 'clip-without-video'
  | 'clip-codec-unknown'
  | 'clip-too-long'
  | 'not-secure'
  | 'source-unknown';

/** What another thread can take a source's pictures from, so that they never pass through the page. */
type SourceFeed =
  | {
      readonly kind: 'live';
      readonly stream: MediaStream;
      /** What it means when its track ends by itself. */
      readonly whenEnded: SourceProblem;
      /** Which part is measured, of a shared window, whose pictures may come again unchanged; null of a camera. */
      readonly framing: PictureFraming | null;
    }
  /** A clip's file, or its address on our own origin. */
  | { readonly kind: 'clip'; readonly from: Blob | string };

/**
 * Gives pictures one at a time to a consumer, in order. A live source drops what comes while the consumer is busy
 * and never queues; a clip is stepped exactly and waits for the consumer, so that the result does not depend on the
 * machine's speed.
 */
export interface FrameSource {
  readonly kind: SourceKind;
  /** Length in seconds when known (clips), else null. */
  readonly durationSeconds: number | null;
  /** A name for the record: the file's name or the camera's label. */
  readonly label: string;
  readonly feed: SourceFeed;
  /** Becomes aborted with stop(). Whoever takes from the feed ends by it, and calls stop() at the end. */
  readonly stopping: AbortSignal;
  /** Runs until the end, a failure or stop(). Never rejects for a failure of the source: that is a SourceEnd. */
  run(consume: (picture: SourcePicture) => Promise<void>): Promise<SourceEnd>;
  /** Asks for the end and gives a device back; safe to call twice. */
  stop(): void;
}

/** A source that was opened, or the problem that keeps it from being one. */
export type OpenedSource =
  | { readonly ok: true; readonly source: FrameSource }
  | { readonly ok: false; readonly problem: SourceProblem };
