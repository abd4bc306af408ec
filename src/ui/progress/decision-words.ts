import type { Decision, Direction, Proposal } from '../../core/plan/decision.ts';

/** The directions, as the therapist reads them. */
export const DIRECTION_TITLES: Readonly<Record<Direction, string>> = {
  advance: 'Go on to the next stage',
  stay: 'Stay in this stage',
  'step-back': 'Step back a stage',
  'seek-care': 'No session; care now',
};

/** A reason that stands ready where the decision is the one that was proposed; else the therapist's own words are asked for. */
export function reasonReadyFor(proposal: Proposal, direction: Decision['direction'] | null): string {
  if (direction === null || direction !== proposal.direction) return '';
  return `As proposed. ${proposal.reasons[0]?.sentence ?? ''}`.trim().slice(0, 400).trim();
}
