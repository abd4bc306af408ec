import type { MeetingPost, Meetings, PostEars, Sealer } from '../../src/core/consult/meeting-post.ts';
import { sealerOf } from '../../src/adapters/consult/sealed-text.ts';

/** A server of one process that passes texts on; it hears and may change each of them. */
export class MemoryServer implements Meetings {
  readonly origin = 'memory:';
  readonly heard: string[] = [];
  /** False while it cannot be reached. */
  isThere = true;
  /** What it makes of a text on its way; null to keep it. */
  change: (sealed: string) => string | null = (sealed) => sealed;
  readonly #there = new Map<string, PostEars>();

  open(place: string, ears: PostEars): MeetingPost {
    let isClosed = false;
    queueMicrotask(() => {
      if (isClosed) return;
      if (!this.isThere) return ears.onProblem('no-server');
      if (this.#there.has(place)) return ears.onProblem('taken');
      this.#there.set(place, ears);
      ears.onOpen();
    });
    return {
      send: (to, sealed) => {
        this.heard.push(sealed);
        const passed = this.change(sealed);
        const receiver = this.#there.get(to);
        if (receiver === undefined) queueMicrotask(() => ears.onNobody());
        else if (passed !== null) queueMicrotask(() => receiver.onText(place, passed));
        return true;
      },
      close: () => {
        isClosed = true;
        if (this.#there.get(place) === ears) this.#there.delete(place);
      },
    };
  }

  /** What was sealed as it is in the app. */
  sealerOf(meeting: Parameters<typeof sealerOf>[0]): Promise<Sealer> {
    return sealerOf(meeting);
  }
}
