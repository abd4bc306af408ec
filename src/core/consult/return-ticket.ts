import { z } from 'zod';
import { CONSULT_LIMITS } from './limits.ts';
import { consultSideSchema } from './messages.ts';

/** What a page needs to go back into its consult when it is loaded again. */
const returnTicketSchema = z.strictObject({
  side: consultSideSchema,
  consultId: z.string().regex(/^[A-Za-z0-9_-]{1,40}$/),
  place: z.string().regex(/^[0-9a-f]{32}$/),
  secret: z.string().regex(/^[0-9a-f]{64}$/),
  /** Wall clock. */
  savedMs: z.number().min(0).max(1e14),
});
export type ReturnTicket = z.infer<typeof returnTicketSchema>;

/** Where a page keeps its ticket: only while its tab is open. */
export interface ReturnTickets {
  load(): unknown;
  save(ticket: ReturnTicket | null): void;
}

/** The ticket that was kept, while it holds; null for none. nowMs: wall clock. */
export function readTicket(kept: unknown, nowMs: number): ReturnTicket | null {
  const read = returnTicketSchema.safeParse(kept);
  if (!read.success) return null;
  const ageMs = nowMs - read.data.savedMs;
  return ageMs >= 0 && ageMs <= CONSULT_LIMITS.ticketMinutes * 60_000 ? read.data : null;
}
