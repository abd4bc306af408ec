import type { PlanProblem } from '../plan/read-plan.ts';
import { documentProblemSentence } from './document-words.ts';

/** Stands wherever stages are shown: what is known about them at all. */
export const STAGES_EVIDENCE =
  'For an overloaded distal biceps tendon only single cases have been published (Jayaseelan and Magrum 2012; Holshouser and Jayaseelan 2020): no trial says which stages, doses or thresholds are right, so these are set by the therapist.';

/** What a thing that could not be opened was taken for. */
const NOUNS = { plan: 'plan', day: 'training day' } as const;

/** Why a file or link could not be opened as a plan or a training day, and what to do about it. */
export function planProblemSentence(problem: PlanProblem, what: keyof typeof NOUNS = 'plan'): string {
  return problem.kind === 'link-damaged'
    ? 'This link was cut short or changed on its way, so the plan is not opened. Get the link again, or open the file or the QR code instead.'
    : documentProblemSentence(problem, NOUNS[what]);
}
