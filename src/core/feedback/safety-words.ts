import type { HoldClearance, SessionClearance } from '../plan/may-start.ts';
import type { PlanQuestion, SessionQuestion } from '../plan/safety-questions.ts';

/** One question, and the same in a few words for a list or a sentence. */
interface QuestionWords {
  readonly question: string;
  readonly short: string;
}

/** The questions before the first plan. */
export const PLAN_QUESTION_WORDS: Readonly<Record<PlanQuestion, QuestionWords>> = {
  'blood-pressure': {
    question: 'Is your blood pressure high and not under control, or do you not know?',
    short: 'uncontrolled blood pressure',
  },
  'heart-disease': {
    question: 'Do you have a heart disease, or were you told to take care with effort because of your heart?',
    short: 'heart disease',
  },
  aneurysm: {
    question:
      'Were you ever told of a bulge in an artery (an aneurysm), in the head, the chest or the belly?',
    short: 'aneurysm',
  },
  hernia: { question: 'Do you have a hernia, in the groin, the belly or elsewhere?', short: 'hernia' },
  'recent-surgery': {
    question: 'Have you had an operation in the last three months, on an eye too?',
    short: 'recent surgery',
  },
};

/** The questions before each session. */
export const SESSION_QUESTION_WORDS: Readonly<Record<SessionQuestion, QuestionWords>> = {
  pop: { question: 'Did you feel or hear a pop in the arm?', short: 'a pop' },
  'sudden-weakness': {
    question: 'Is the arm suddenly weak, in bending or in turning the palm up?',
    short: 'sudden weakness',
  },
  bruising: { question: 'Is there a new bruise or swelling at the elbow or the arm?', short: 'bruising' },
  'changed-contour': {
    question: 'Has the shape of the biceps changed?',
    short: 'a changed contour of the biceps',
  },
  numbness: { question: 'Is anything in the arm or hand numb or tingling?', short: 'numbness' },
  fever: { question: 'Do you have a fever, or do you feel ill?', short: 'fever' },
  'recent-fall': {
    question: 'Did you fall, or hurt the arm, since the last session?',
    short: 'a recent fall',
  },
};

/** Stands beside every list of safety questions. */
export const NO_CLEARS_NOBODY =
  'No to every question does not mean that the arm is sound. If something feels wrong, stop and ask your therapist or a doctor.';

/** Whether holds may start, said to the person; null where there is nothing to say. */
export function holdClearanceSentence(clearance: HoldClearance): string | null {
  if (clearance.mayStart) return null;
  switch (clearance.because) {
    case 'not-asked':
      return 'No hold starts before the questions about your health are answered.';
    case 'waits-for-therapist':
      return `No hold starts before your therapist has decided, because of: ${listWords(clearance.yes.map((question) => PLAN_QUESTION_WORDS[question].short))}. Show them this page.`;
    case 'withheld':
      return 'Your therapist has decided against holds for now. Leave them out.';
  }
}

/** Whether a session may start, said to the person; null where it may. */
export function sessionClearanceSentence(clearance: SessionClearance): string | null {
  if (clearance.mayStart) return null;
  switch (clearance.because) {
    case 'not-asked':
      return 'Answer the questions first.';
    case 'seek-care':
      return `No session today. Seek medical care now, because of: ${listWords(clearance.yes.map((question) => SESSION_QUESTION_WORDS[question].short))}. Do not load the arm. Your therapist sees this answer.`;
    case 'waits-for-therapist':
      return `No session before your therapist has decided: on an earlier day you answered yes to ${listWords(clearance.since.safetyYes.map((question) => SESSION_QUESTION_WORDS[question].short))}. If you have not had medical care since, seek it now.`;
  }
}

/** "a", "a and b", "a, b and c". */
export function listWords(items: readonly string[]): string {
  return items.length < 2 ? items.join('') : `${items.slice(0, -1).join(', ')} and ${items.at(-1) ?? ''}`;
}
