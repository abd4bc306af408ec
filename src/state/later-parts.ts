import type { WaitingPlan } from '../core/exchange/waiting-plans.ts';
import type { Caseload } from './caseload.svelte.ts';
import type { Comparison } from './comparison.svelte.ts';
import type { Consult } from './consult.svelte.ts';
import type { ExchangeBoard } from './exchange-board.svelte.ts';
import type { PlanBoard } from './plan-board.svelte.ts';
import type { ReviewDesk } from './review-desk.svelte.ts';
import type { Review } from './review.svelte.ts';
import type { SessionReport } from './session-report.svelte.ts';
import type { StorageCare } from './storage-care.svelte.ts';

/** What the screens after the first one stand on. Each loads when it is first asked for. */
export interface LaterParts {
  /** What is looked at of a session. */
  readonly review: () => Promise<Review>;
  readonly board: () => Promise<PlanBoard>;
  readonly caseload: () => Promise<Caseload>;
  /** Backup, checks and repair; not asked for where nothing lasts. */
  readonly care: () => Promise<StorageCare>;
  /** Sending and taking in. */
  readonly exchange: () => Promise<ExchangeBoard>;
  readonly comparison: () => Promise<Comparison>;
  /** The reviews of sessions. */
  readonly desk: () => Promise<ReviewDesk>;
  readonly report: () => Promise<SessionReport>;
  /** A newer version of a plan that came and waits; null where none does. */
  readonly newerVersion: (planId: string) => Promise<WaitingPlan | null>;
  /** The consult between two browsers. */
  readonly consult: () => Promise<Consult>;
}
