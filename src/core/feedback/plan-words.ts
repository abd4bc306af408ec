import type { PlanProblem } from '../plan/read-plan.ts';

/** Stands wherever stages are shown: what is known about them at all. */
export const STAGES_EVIDENCE =
  'For an overloaded distal biceps tendon only single cases have been published (Jayaseelan and Magrum 2012; Holshouser and Jayaseelan 2020): no trial says which stages, doses or thresholds are right, so these are set by the therapist.';

/** What a thing that could not be opened was taken for. */
const NOUNS = { plan: 'plan', day: 'training day' } as const;

/** Why a file or link could not be opened as a plan or a training day, and what to do about it. */
export function planProblemSentence(problem: PlanProblem, what: keyof typeof NOUNS = 'plan'): string {
  const noun = NOUNS[what];
  switch (problem.kind) {
    case 'not-json':
      return `This ${noun} is damaged or cut short and cannot be read. Get it again from where it came from.`;
    case 'not-ours':
      return `This is not a ${noun}. Open the link or the file that you were given for it.`;
    case 'newer-version':
      return `This ${noun} was written by a newer version (version ${problem.version}; up to ${problem.readableVersion} can be read here). Update this program and open it again.`;
    case 'damaged':
      return `This ${noun} is not opened, because something in it cannot be right (at "${shortened(problem.path)}"). Get it again from where it came from.`;
    case 'too-long':
      return `This is too large to be a ${noun} and is not opened. Get it again from where it came from.`;
    case 'name-twice':
      return `This ${noun} says "${shortened(problem.name)}" twice and is not opened, because nobody can tell which of the two was meant. Get it again from where it came from.`;
    case 'link-damaged':
      return 'This link was cut short or changed on its way, so the plan is not opened. Get the link again, or open the file or the QR code instead.';
  }
}

/** A name out of a foreign file: one line, and no longer than a sentence can bear. */
function shortened(name: string): string {
  const plain = name.replace(/[\p{C}\p{Z}]+/gu, ' ');
  return plain.length > 60 ? `${plain.slice(0, 60)}…` : plain;
}
