import type { Decision } from '../plan/decision.ts';
import { SESSION_QUESTIONS } from '../plan/safety-questions.ts';
import { NOT_MEASURED_REASONS } from '../kinematics/measured.ts';
import type { Correction } from '../review/review-document.ts';
import type { MeasuredTime } from '../session/session-record.ts';
import { FORMS, reasonWords, valueWords } from './measure-words.ts';
import { listWords, SESSION_QUESTION_WORDS } from './safety-words.ts';

/** What was decided, said to the patient; null: nothing was decided since. */
export function decisionForPatient(decision: Decision | null): string {
  switch (decision?.direction) {
    case 'advance':
      return 'Your therapist has decided: you go on to the next stage.';
    case 'stay':
      return 'Your therapist has decided: you stay in this stage for now.';
    case 'step-back':
      return 'Your therapist has decided: you go back one stage for now.';
    case undefined:
      return 'Nothing was decided since this session. Go on by the plan you have, and only as far as it allows.';
  }
}

/** When to stop and seek care; stands on every patient's page. */
export function careSentence(): string {
  const signs = SESSION_QUESTIONS.map((question) => SESSION_QUESTION_WORDS[question].short);
  return `Stop and seek medical care now with any of these: ${listWords(signs)}. Do not load the arm.`;
}

/** What a report can not say; stands on every page for the file. */
export const REPORT_LIMITS =
  'Measured from landmarks of a camera’s picture, with the intervals that stand beside the figures; in a hold force is not measured. The tool diagnoses nothing. Whoever signs judges by their licence and the rules of their place.';

const CORRECTION_WORDS: Readonly<Record<Correction['kind'], string>> = {
  add: 'added',
  discard: 'discarded',
  split: 'split in two',
  join: 'two joined to one',
  rejudge: 'judged anew',
};

/** A correction as it stands in a report: "Set 1: a repetition was discarded. Reason: …". */
export function correctionSentence({ kind, item, setIndex, reason }: Correction): string {
  return `Set ${setIndex + 1}: ${item}, ${CORRECTION_WORDS[kind]}. Reason: ${reason}`;
}

/** How much of a set was measured, and why the rest was not. */
export function measuredTimeSentence({ share, totalSeconds, notMeasuredSeconds }: MeasuredTime): string {
  if (share === null) return 'no time that could be measured';
  const rest = NOT_MEASURED_REASONS.map((reason) => ({ reason, seconds: notMeasuredSeconds[reason] ?? 0 }))
    .filter(({ seconds }) => seconds >= 0.05)
    .sort((a, b) => b.seconds - a.seconds)
    .map(({ reason, seconds }) => `${valueWords(seconds, FORMS.seconds)} ${reasonWords(reason)}`);
  const measured = `${valueWords(share, FORMS.share)} of ${valueWords(totalSeconds, FORMS.seconds)} measured`;
  return rest.length === 0 ? measured : `${measured}; not measured: ${listWords(rest)}`;
}
