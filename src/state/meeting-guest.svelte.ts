import { CONSULT_LIMITS } from '../core/consult/limits.ts';
import { KNOCK, type Meeting } from '../core/consult/meeting.ts';
import type { MeetingPost, Meetings } from '../core/consult/meeting-post.ts';

/** What a guest does with what comes. */
interface GuestEars {
  /** An invitation came: the answer to it, or null for none. */
  readonly onInvitation: (text: string) => Promise<string | null>;
  /** Nobody with this secret is there, or no server. */
  readonly onNobody: (why: 'nobody' | 'no-server') => void;
}

/** How a guest knocks: until somebody answers, or for so long. */
type Patience = 'for-ever' | 'a-while';

/** Knocks at a place of a server, and answers the invitation that comes. */
export class MeetingGuest {
  readonly #meetings: Meetings;
  readonly #ears: GuestEars;
  readonly #newId: () => string;
  #post: MeetingPost | null = null;
  #isKnocking = $state(false);
  #timers: ReturnType<typeof setTimeout>[] = [];

  constructor(meetings: Meetings, newId: () => string, ears: GuestEars) {
    this.#meetings = meetings;
    this.#newId = newId;
    this.#ears = ears;
  }

  get isKnocking(): boolean {
    return this.#isKnocking;
  }

  /** Knocks again and again until an invitation came. */
  async knock(meeting: Meeting, patience: Patience): Promise<void> {
    this.close();
    this.#isKnocking = true;
    const sealer = await this.#meetings.sealerOf(meeting);
    if (!this.#isKnocking) return;
    let isReached = false;
    let isAnswered = false;
    const knockNow = async (): Promise<void> => {
      const knock = await sealer.seal('guest', KNOCK);
      if (!isAnswered) post.send(meeting.place, knock);
    };
    const take = async (sealed: string): Promise<void> => {
      const text = await sealer.unseal('host', sealed);
      // The server can pass on what it likes; only the host can seal. One invitation is answered for each knocking.
      if (text === null || isAnswered || post !== this.#post) return;
      isAnswered = true;
      this.#stopTimers();
      const answer = await this.#ears.onInvitation(text);
      if (answer !== null) post.send(meeting.place, await sealer.seal('guest', answer));
    };
    const post = this.#meetings.open(this.#newId(), {
      onOpen: () => {
        isReached = true;
        void knockNow();
      },
      onText: (_from, sealed) => void take(sealed),
      onNobody: () => undefined,
      onProblem: (problem) => {
        if (patience === 'a-while' && (problem !== 'no-server' || !isReached)) this.#giveUp('no-server');
      },
    });
    this.#post = post;
    this.#timers.push(setInterval(() => void knockNow(), CONSULT_LIMITS.knockAgainSeconds * 1000));
    if (patience === 'a-while')
      this.#timers.push(setTimeout(() => this.#giveUp('nobody'), CONSULT_LIMITS.knockSeconds * 1000));
  }

  close(): void {
    this.#stopTimers();
    this.#post?.close();
    this.#post = null;
    this.#isKnocking = false;
  }

  #giveUp(why: 'nobody' | 'no-server'): void {
    this.close();
    this.#ears.onNobody(why);
  }

  #stopTimers(): void {
    for (const timer of this.#timers.splice(0)) clearTimeout(timer);
  }
}
