import type { OpenedSource } from '../../core/pose/frame-source.ts';
import type { liveSource } from './live-source.ts';

/** How the record names it: what a video line leaves of a picture is less than its camera gave. */
const LABEL = 'picture received in a consult, as the video line left it';

/** A received picture as a source. It has a copy of the track, so that its end ends nothing that is seen or heard. */
export function openReceived(stream: MediaStream, sourceOf: typeof liveSource): OpenedSource {
  const [track] = stream.getVideoTracks();
  if (track === undefined) return { ok: false, problem: 'sharing-ended' };
  const own = new MediaStream([track.clone()]);
  return {
    ok: true,
    source: sourceOf(own, { kind: 'shared-window', label: LABEL, whenEnded: 'sharing-ended', framing: null }),
  };
}
