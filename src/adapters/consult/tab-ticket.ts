import type { ReturnTickets } from '../../core/consult/return-ticket.ts';

const NAME = 'forearmed-consult';

/** Keeps a ticket in the tab's own memory, which outlives a reload and not the tab: nobody else at this machine goes into a consult. */
export const tabTickets: ReturnTickets = {
  load() {
    try {
      return JSON.parse(sessionStorage.getItem(NAME) ?? 'null') as unknown;
    } catch {
      // Not ours, or a browser that keeps nothing: then a new invitation is made.
      return null;
    }
  },
  save(ticket) {
    try {
      if (ticket === null) sessionStorage.removeItem(NAME);
      else sessionStorage.setItem(NAME, JSON.stringify(ticket));
    } catch {
      // As above.
    }
  },
};
