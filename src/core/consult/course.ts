import type { Reading } from '../documents/read-document.ts';
import { CONSULT_LIMITS } from './limits.ts';
import type { ConsultSide, EntryContent, EntryMessage } from './messages.ts';
import type { MessageProblem } from './read-message.ts';

/** What happened in a consult, as one side knows it. */
export interface Course {
  readonly side: ConsultSide;
  readonly own: readonly EntryMessage[];
  readonly other: readonly EntryMessage[];
  /** Own entries that the other side has. */
  readonly hasOther: number;
}

/** An entry with who made it. */
export interface CourseLine {
  readonly side: ConsultSide;
  readonly entry: EntryMessage;
}

/** Nothing happened yet. */
export function emptyCourse(side: ConsultSide): Course {
  return { side, own: [], other: [], hasOther: 0 };
}

/** Adds an entry of this side, made at this moment of the clock of round trips and of the wall clock; null when the course is full. */
export function addEntry(
  course: Course,
  content: EntryContent,
  when: Pick<EntryMessage, 'madeMs' | 'at'>,
): Course | null {
  if (course.own.length >= CONSULT_LIMITS.entries) return null;
  const number = course.own.length + 1;
  const entry: EntryMessage = { kind: 'entry', number, seen: course.other.length, ...when, content };
  return { ...course, own: [...course.own, entry] };
}

/** Own entries that the other side may not have, in order: sent when they are new, and again after a gap. */
export function unsent(course: Course): readonly EntryMessage[] {
  return course.own.slice(course.hasOther);
}

/** Notes how many of this side's entries the other one has. More than there are is refused. */
export function noteReceived(course: Course, received: number): Reading<Course, MessageProblem> {
  if (received > course.own.length) return { ok: false, problem: 'out-of-order' };
  return { ok: true, value: { ...course, hasOther: Math.max(course.hasOther, received) } };
}

/**
 * Takes in an entry of the other side. One that is there already changes nothing; one that leaves a gap, or says that it saw more
 * than there is or less than the one before, is refused.
 */
export function takeEntry(course: Course, entry: EntryMessage): Reading<Course, MessageProblem> {
  const { own, other } = course;
  if (entry.number <= other.length) return { ok: true, value: course };
  const seenBefore = other.at(-1)?.seen ?? 0;
  const isNext = entry.number === other.length + 1;
  if (!isNext || entry.seen > own.length || entry.seen < seenBefore)
    return { ok: false, problem: 'out-of-order' };
  return { ok: true, value: { ...course, other: [...other, entry] } };
}

/**
 * All entries in one order, the same on both sides: by the sum of an entry's number and of what its side had seen, which grows from
 * cause to effect, then by side.
 */
export function courseLines({ side, own, other }: Course): readonly CourseLine[] {
  const otherSide = side === 'therapist' ? 'patient' : 'therapist';
  const lines = [
    ...own.map((entry) => ({ side, entry })),
    ...other.map((entry) => ({ side: otherSide, entry }) as const),
  ];
  const place = ({ entry }: CourseLine): number => entry.number + entry.seen;
  return lines.toSorted(
    (a, b) => place(a) - place(b) || Number(a.side === 'patient') - Number(b.side === 'patient'),
  );
}

/**
 * Whether an entry is still to be done when it comes, so many milliseconds old (null: not known). A stop always is; a start, a cue or a
 * question that was long on its way is not, because it would speak of something past.
 */
export function isStillDue(content: EntryContent, ageMs: number | null): boolean {
  const isOfMoment =
    content.what === 'cue' ||
    content.what === 'pain-asked' ||
    content.what === 'measuring-asked' ||
    (content.what === 'set-asked' && content.action === 'start');
  return !isOfMoment || (ageMs !== null && ageMs <= CONSULT_LIMITS.freshSeconds * 1000);
}
