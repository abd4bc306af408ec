import type { MeetingPost, Meetings, PostProblem, Sealer } from '../core/consult/meeting-post.ts';
import { KNOCK } from '../core/consult/meeting.ts';

/** What a host does for whoever comes. */
interface HostEars {
  /** Somebody who has the secret is there: the invitation to be passed on, or null for none. */
  readonly onKnock: () => Promise<string | null>;
  readonly onAnswer: (text: string) => void;
}

/** Waits at a place of a server for the other side, and passes the invitation and its answer by itself. */
export class MeetingHost {
  readonly #meetings: Meetings;
  readonly #ears: HostEars;
  #post: MeetingPost | null = null;
  #stage = $state<'closed' | 'opening' | 'waiting' | PostProblem>('closed');
  #strangers = $state(0);

  constructor(meetings: Meetings, ears: HostEars) {
    this.#meetings = meetings;
    this.#ears = ears;
  }

  get stage(): 'closed' | 'opening' | 'waiting' | PostProblem {
    return this.#stage;
  }

  /** How often somebody came whose text could not be opened: a code that was typed wrong, or guessed. */
  get strangers(): number {
    return this.#strangers;
  }

  /** Waits at a place for whoever has one of these secrets. */
  async open(place: string, secrets: readonly string[]): Promise<void> {
    this.close();
    this.#stage = 'opening';
    this.#strangers = 0;
    const sealers = await Promise.all(secrets.map((secret) => this.#meetings.sealerOf({ place, secret })));
    if (this.#stage !== 'opening') return;
    const post = this.#meetings.open(place, {
      onOpen: () => (this.#stage = 'waiting'),
      onText: (from, sealed) => void this.#take(post, sealers, from, sealed),
      onNobody: () => undefined,
      onProblem: (problem) => (this.#stage = problem),
    });
    this.#post = post;
  }

  close(): void {
    this.#post?.close();
    this.#post = null;
    this.#stage = 'closed';
  }

  async #take(post: MeetingPost, sealers: readonly Sealer[], from: string, sealed: string): Promise<void> {
    for (const sealer of sealers) {
      const text = await sealer.unseal('guest', sealed);
      if (text === null) continue;
      const invitation = text === KNOCK ? await this.#ears.onKnock() : null;
      if (post !== this.#post) return;
      if (text !== KNOCK) this.#ears.onAnswer(text);
      if (invitation !== null) post.send(from, await sealer.seal('host', invitation));
      return;
    }
    this.#strangers += 1;
  }
}
