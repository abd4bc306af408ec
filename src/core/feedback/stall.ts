import { durationWords } from './measure-words.ts';

/** So long without a picture is a pause that is said, seconds. Our own choice: cameras stumble for a second or so. */
const STALL_SECONDS = 3;
/** So long it stands there that pictures came again after a pause, seconds: long enough to be read. */
const BACK_SECONDS = 6;

/** What is known of the pictures' coming. Times are seconds of one clock that only rises. */
export interface PictureFlow {
  /** When the last picture came; null before the first. */
  readonly lastSeconds: number | null;
  /** The last pause of at least three seconds that is over: when pictures came again, and how long none had come. */
  readonly pause: { readonly endSeconds: number; readonly lengthSeconds: number } | null;
}

/** What keeps pictures from coming, as far as the browser tells. */
export interface FlowFacts {
  readonly nowSeconds: number;
  /** The camera itself gives nothing at the moment: covered, switched off by its key, or taken by the system. */
  readonly isMuted: boolean;
  /** The page was hidden or asleep since the last picture. */
  readonly wasHidden: boolean;
  /** The pictures are those of a shared window. */
  readonly isShared: boolean;
  /** True while a set runs. */
  readonly isMeasuring: boolean;
}

/** No picture yet. */
export const NO_FLOW: PictureFlow = { lastSeconds: null, pause: null };

/** Takes into account that a picture came. */
export function pictureCame(flow: PictureFlow, nowSeconds: number): PictureFlow {
  const lengthSeconds = flow.lastSeconds === null ? 0 : nowSeconds - flow.lastSeconds;
  const pause = lengthSeconds >= STALL_SECONDS ? { endSeconds: nowSeconds, lengthSeconds } : flow.pause;
  return { lastSeconds: nowSeconds, pause };
}

/** True while pictures that came before have not come for so long that it is said. */
export function isStalled({ lastSeconds }: PictureFlow, nowSeconds: number): boolean {
  return lastSeconds !== null && nowSeconds - lastSeconds >= STALL_SECONDS;
}

/** The sentence about pictures of a live source that do not come, or that come again after a pause; null otherwise. */
export function stallSentence(flow: PictureFlow, facts: FlowFacts): string | null {
  const { lastSeconds, pause } = flow;
  if (lastSeconds !== null && isStalled(flow, facts.nowSeconds))
    return `No picture has come for ${durationWords(facts.nowSeconds - lastSeconds)}. ${remedy(facts)}`;
  if (pause === null || facts.nowSeconds - pause.endSeconds >= BACK_SECONDS) return null;
  const length = durationWords(pause.lengthSeconds);
  return facts.isMeasuring
    ? `Pictures come again. The pause of ${length} is not measured; the set goes on.`
    : `Pictures come again after a pause of ${length}.`;
}

function remedy({ isMuted, wasHidden, isShared }: FlowFacts): string {
  if (isShared)
    return 'The shared picture stands still: bring the call’s window back if it is minimised or covered, and ask whether the person’s picture still runs. If it stays so, share the window again: what was measured is kept.';
  if (isMuted) {
    return 'The camera is paused: end the call or close the program that uses it, or switch it on by its key or cover.';
  }
  return wasHidden
    ? 'Keep this page in front while a set runs: browsers slow pages down that are not seen.'
    : 'Keep this page in front, and close other programs that use the camera. If nothing comes, end here and open the camera again: what was measured is kept.';
}
