import type { CourseLine } from './course.ts';
import type { EntryContent } from './messages.ts';

/** What both sides are shown between sets. */
export type ShownBeside = Extract<EntryContent, { what: 'demonstration-shown' | 'repetition-shown' }>;

/**
 * What both sides are shown now, worked out from the course, so that it is the same on both; null for nothing. A set that is asked for or
 * begins ends it, and so does another exercise: nothing stands in front of the figures of a set.
 */
export function shownBeside(lines: readonly CourseLine[]): ShownBeside | null {
  return lines.reduce<ShownBeside | null>((shown, { entry: { content } }) => {
    switch (content.what) {
      case 'demonstration-shown':
        return content;
      case 'repetition-shown':
        return content.frames.length === 0 ? shown : content;
      case 'showing-ended':
      case 'prescription':
      case 'set-begun':
        return null;
      case 'set-asked':
        return content.action === 'start' ? null : shown;
      default:
        return shown;
    }
  }, null);
}

/** A set that has ended, with how many holds or repetitions of it can be shown again. */
export interface EndedSet {
  readonly setNumber: number;
  readonly parts: number;
}

/** The sets of the exercise that was asked for last, in order. */
export function endedSets(lines: readonly CourseLine[]): readonly EndedSet[] {
  return lines.reduce<readonly EndedSet[]>((sets, { entry: { content } }) => {
    if (content.what === 'prescription') return [];
    if (content.what !== 'set-ended') return sets;
    return [...sets, { setNumber: content.setNumber, parts: content.parts }];
  }, []);
}
