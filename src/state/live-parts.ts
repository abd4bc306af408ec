import type { Announcer } from '../core/feedback/announcer.ts';
import type { PageHealth } from '../core/feedback/diagnostics-words.ts';
import type { OpenFigureSurface } from '../core/pose/figure-surface.ts';
import type { SessionStore } from '../core/session/session-store.ts';
import type { SetJudge } from '../core/session/set-judge.ts';
import type { VideoParts } from '../core/session/video-recording.ts';
import type { SourceOpener } from '../core/session/source-opener.ts';
import type { LoadService } from './picture-stream.svelte.ts';

/** What a live session needs from outside; handed in by main.ts. */
export interface LiveParts {
  readonly loadService: LoadService;
  readonly sources: SourceOpener;
  readonly store: SessionStore;
  /** Judges the sets when they end. */
  readonly judge: SetJudge;
  readonly announcer: Announcer;
  readonly software: { readonly name: string; readonly version: string };
  /** A clock that only rises, seconds; its zero does not matter. */
  readonly nowSeconds: () => number;
  /** The moment of the wall clock with its offset, as in the record. */
  readonly moment: () => string;
  readonly newId: () => string;
  readonly health: PageHealth;
  /** Draws figures over live pictures away from the page's thread, where the browser can. */
  readonly openFigureSurface: OpenFigureSurface;
  /** Keeps videos of sets where that is asked for; loaded then. Null where nothing lasts. */
  readonly videos: (() => Promise<VideoParts>) | null;
  /** Keeps the screen from going dark while a source runs. */
  readonly keepAwake: (isWanted: boolean) => void;
}
