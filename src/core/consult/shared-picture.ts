import type { FigureOverlay } from '../pose/figure-overlay.ts';
import type { CourseLine } from './course.ts';
import type { SharedShape, WatchedJoint } from './picture-entries.ts';

/** A frozen picture and what is drawn on it. */
export interface FrozenPicture {
  readonly pictureId: number;
  readonly capturedMs: number;
  readonly widthPx: number;
  readonly heightPx: number;
  readonly joints: FigureOverlay;
  readonly drawings: readonly { readonly shape: SharedShape; readonly words: string }[];
}

/** What both sides see of the picture now. */
export interface SharedPicture {
  /** Null while the picture runs. */
  readonly frozen: FrozenPicture | null;
  /** The joint that is pointed out, or null. */
  readonly joint: WatchedJoint | null;
  /** The last picture's number; 0 before the first. */
  readonly lastId: number;
}

const NOTHING_SHARED: SharedPicture = { frozen: null, joint: null, lastId: 0 };

/**
 * What both sides see, worked out from the course: so it is the same on both, and after a gap it is what it would be without one. What speaks of
 * another picture than the frozen one changes nothing.
 */
export function sharedPicture(lines: readonly CourseLine[]): SharedPicture {
  return lines.reduce<SharedPicture>((shared, { entry: { content } }) => {
    const { frozen } = shared;
    switch (content.what) {
      case 'picture-frozen': {
        const { pictureId, capturedMs, widthPx, heightPx, joints } = content;
        const held = { pictureId, capturedMs, widthPx, heightPx, joints, drawings: [] };
        return { ...shared, lastId: pictureId, frozen: held };
      }
      case 'picture-drawn': {
        if (frozen?.pictureId !== content.pictureId) return shared;
        const { shape, words } = content;
        return { ...shared, frozen: { ...frozen, drawings: [...frozen.drawings, { shape, words }] } };
      }
      case 'picture-cleared':
        return frozen?.pictureId === content.pictureId
          ? { ...shared, frozen: { ...frozen, drawings: [] } }
          : shared;
      case 'picture-let-go':
        return frozen?.pictureId === content.pictureId ? { ...shared, frozen: null } : shared;
      case 'joint-watched':
        return { ...shared, joint: content.joint };
      default:
        return shared;
    }
  }, NOTHING_SHARED);
}
