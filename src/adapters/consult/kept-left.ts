import type { LeftSessions } from '../../core/consult/left-session.ts';

const NAME = 'forearmed-consult-session-';

/** Keeps what was noted with a running session beside it in this browser. A browser that keeps nothing loses it with the tab. */
export const keptLeft: LeftSessions = {
  list() {
    try {
      const names = Object.keys(localStorage).filter((name) => name.startsWith(NAME));
      return names.map((name) => parsed(localStorage.getItem(name)));
    } catch {
      return [];
    }
  },
  save(left) {
    try {
      localStorage.setItem(NAME + left.sessionId, JSON.stringify(left));
    } catch {
      // No room, or not allowed: the record itself is kept elsewhere.
    }
  },
  forget(sessionId) {
    try {
      localStorage.removeItem(NAME + sessionId);
    } catch {
      // As above.
    }
  },
};

function parsed(text: string | null): unknown {
  try {
    return JSON.parse(text ?? 'null') as unknown;
  } catch {
    return null;
  }
}
