import { HOLD, ROW, STRICT_CURL } from './bar-clips.ts';
import { BAND_CURL, MIRROR_CURL, WALK } from './standing-clips.ts';
import type { ClipOutline } from './scenario.ts';

/** All demo clips. A clip is made again from its entry alone. */
export const CLIPS: readonly ClipOutline[] = [MIRROR_CURL, HOLD, STRICT_CURL, ROW, BAND_CURL, WALK];
