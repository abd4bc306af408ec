import {
  addEntry,
  courseLines,
  emptyCourse,
  noteReceived,
  takeEntry,
  unsent,
  type Course,
  type CourseLine,
} from '../core/consult/course.ts';
import type { ConsultSide, EntryContent, EntryMessage } from '../core/consult/messages.ts';

/** The course of a consult as one side keeps it, over all links and pages. */
export class LineCourse {
  readonly #side: ConsultSide;
  #course: Course;
  #lines = $state.raw<readonly CourseLine[]>([]);
  /** What happened before one of the two pages was loaded again. */
  #earlier: readonly CourseLine[] = [];

  constructor(side: ConsultSide) {
    this.#side = side;
    this.#course = emptyCourse(side);
  }

  /** The patient has let the therapist's machine measure, in this numbering. Both sides know it by the same entry. */
  get hasMoved(): boolean {
    const { side, own, other } = this.#course;
    const isMove = ({ content }: EntryMessage): boolean =>
      content.what === 'measured-at' && content.at === 'therapist';
    return (side === 'patient' ? own : other).some(isMove);
  }

  /** Everything that happened, in the order that both sides have. */
  get lines(): readonly CourseLine[] {
    return this.#lines;
  }

  /** Entries of the other side that are here. */
  get received(): number {
    return this.#course.other.length;
  }

  /** Own entries that the other side may not have. */
  get unsent(): readonly EntryMessage[] {
    return unsent(this.#course);
  }

  /** The numbering starts anew; what happened before is kept to be read. */
  begin(): void {
    this.#earlier = this.#lines;
    this.#course = emptyCourse(this.#side);
  }

  /** Adds an entry of this side; null when the course is full. */
  add(content: EntryContent, when: Pick<EntryMessage, 'madeMs' | 'at'>): EntryMessage | null {
    const course = addEntry(this.#course, content, when);
    if (course === null) return null;
    this.#keep(course);
    return course.own.at(-1) ?? null;
  }

  /** Takes in an entry of the other side; null where it is refused. */
  take(entry: EntryMessage): 'new' | 'had' | null {
    const before = this.received;
    const taken = takeEntry(this.#course, entry);
    if (!taken.ok) return null;
    this.#keep(taken.value);
    return this.received > before ? 'new' : 'had';
  }

  /** Notes how many of this side's entries the other one has. False for more than there are. */
  noteReceived(received: number): boolean {
    const noted = noteReceived(this.#course, received);
    if (noted.ok) this.#course = noted.value;
    return noted.ok;
  }

  #keep(course: Course): void {
    this.#course = course;
    this.#lines = [...this.#earlier, ...courseLines(course)];
  }
}
