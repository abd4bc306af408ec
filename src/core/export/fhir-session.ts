import { HARDEST_WORDS } from '../feedback/answer-words.ts';
import { PLANNED_EXERCISE_WORDS } from '../feedback/dose-words.ts';
import { misfitSentence } from '../feedback/review-words.ts';
import { correctedSession, type CorrectedSession } from '../review/corrected-session.ts';
import { correctedJudgement } from '../review/corrections.ts';
import type { ReviewDocument } from '../review/review-document.ts';
import type { RecordOutline, SetOutline } from '../session/record-opener.ts';
import { observedItems } from './fhir-corrections.ts';
import {
  amount,
  collection,
  concept,
  derivedId,
  painConcept,
  programDevice,
  provenance,
  quantity,
  referenceTo,
  unnamedPatient,
  type FhirPart,
  type FhirResource,
} from './fhir-parts.ts';

/**
 * A session as a FHIR R4 bundle: an observation for each set, with one for each hold and repetition under it, what was
 * asked and answered, the program, and where it comes from. It holds what the program judged and what the review
 * corrected of it, side by side (fhir-corrections.ts).
 * @param moment - when the bundle is made, with offset
 * @param review - the review that holds, else the one that was begun; null without any
 */
export function fhirSession(
  record: RecordOutline,
  moment: string,
  review: ReviewDocument | null = null,
): FhirResource {
  const device = programDevice(record.software);
  const patient = unnamedPatient(record.plan?.planId ?? record.id);
  const questions = setQuestionnaire();
  const of = {
    record,
    subject: referenceTo(patient),
    device: referenceTo(device),
    corrected: correctedSession(record, review),
    isSigned: review !== null && review.signOff !== null,
  };
  const sets = record.sets.map((set, index) => observationsOfSet(set, index, of));
  const answers = record.sets.map((set, index) => responseOf(set, index, of, questions));
  const source = { id: record.id, display: 'Session record' };
  const made = [...sets.flatMap(({ observations }) => observations), ...answers];
  return collection(derivedId('session-bundle', record.id), moment, [
    patient,
    device,
    questions,
    ...made,
    ...(made.length === 0 ? [] : [provenance(made, device, source, moment, null)]),
    ...sets.flatMap(({ provenances }) => provenances),
  ]);
}

interface Session {
  readonly record: RecordOutline;
  readonly subject: FhirPart;
  readonly device: FhirPart;
  readonly corrected: CorrectedSession;
  readonly isSigned: boolean;
}

/** The observation of a set with those of its holds and repetitions before it, and where its corrections come from. */
function observationsOfSet(
  set: SetOutline,
  setIndex: number,
  { record, subject, device, corrected, isSigned }: Session,
): { readonly observations: readonly FhirResource[]; readonly provenances: readonly FhirResource[] } {
  const { exercise, side } = record.settings;
  const about = { subject, effectiveDateTime: set.startedAt, device };
  const after = corrected.sets[setIndex] ?? correctedJudgement(set.judgement, []);
  const { observations, members, provenances } = observedItems(
    { recordId: record.id, setIndex, exercise, judgement: set.judgement, about },
    after,
    isSigned,
  );
  const { holds, repetitions } = isSigned ? after.judgement : set.judgement;
  const { share, totalSeconds } = set.measuredTime;
  const notes = [
    ...(set.cutOff ? ['Recording broke off before the set was ended.'] : []),
    ...(isSigned && provenances.length > 0
      ? ['Members and counts are as a review left them; what the program judged stands beside them.']
      : []),
    ...corrected.misfits
      .filter(({ correction }) => correction.setIndex === setIndex)
      .map(({ why }) => misfitSentence(why)),
  ];
  const whole: FhirResource = {
    resourceType: 'Observation',
    id: derivedId('observation', record.id, String(setIndex)),
    status: isSigned && provenances.length > 0 ? 'corrected' : 'final',
    ...about,
    code: concept(`Set ${setIndex + 1}: ${PLANNED_EXERCISE_WORDS[exercise]}`),
    bodySite: concept(`${side === 'left' ? 'Left' : 'Right'} elbow`),
    method: concept('Landmarks of the body in video from one camera'),
    component: [
      ...amount('Length of the set', totalSeconds, 's'),
      ...amount('Part of the time with a measured elbow', share, 'percent'),
      ...amount('Holds', holds.length, 'count'),
      ...amount('Repetitions, partial ones included', repetitions.length, 'count'),
      ...amount('Least elbow flexion', set.elbowFlexion?.leastDeg ?? null, 'deg'),
      ...amount('Largest elbow flexion', set.elbowFlexion?.mostDeg ?? null, 'deg'),
      ...pain('Pain before the set', set.answers.painBefore),
      ...pain('Pain after the set', set.answers.painAfter),
      ...amount('Effort felt over the set', set.answers.effort, 'score'),
    ],
    ...(members.length === 0 ? {} : { hasMember: members.map(referenceTo) }),
    ...(notes.length === 0 ? {} : { note: notes.map((text) => ({ text })) }),
  };
  return { observations: [...observations, whole], provenances };
}

function pain(text: string, rating: number | null): FhirPart[] {
  return rating === null ? [] : [{ code: painConcept(text), valueQuantity: quantity(rating, 'score') }];
}

const SET_QUESTIONS = [
  { linkId: 'pain-before', text: 'Pain before the set, 0 none to 10 the most', type: 'integer' },
  { linkId: 'pain-after', text: 'Pain after the set, 0 none to 10 the most', type: 'integer' },
  { linkId: 'effort', text: 'Effort over the set, 0 none to 10 the most', type: 'integer' },
  {
    linkId: 'effort-after-hold',
    text: 'Effort after each hold, 0 none to 10 the most',
    type: 'integer',
    repeats: true,
  },
  { linkId: 'hardest', text: 'Where in the movement it was hardest', type: 'string' },
] as const;

function setQuestionnaire(): FhirResource {
  const id = derivedId('questionnaire', 'set', ...SET_QUESTIONS.map(({ text }) => text));
  return {
    resourceType: 'Questionnaire',
    id,
    url: `urn:uuid:${id}`,
    title: 'Questions around a set',
    status: 'active',
    item: SET_QUESTIONS,
  };
}

function responseOf(
  { answers, startedAt }: SetOutline,
  index: number,
  { record, subject }: Pick<Session, 'record' | 'subject'>,
  questionnaire: FhirResource,
): FhirResource {
  const given: readonly (readonly [linkId: (typeof SET_QUESTIONS)[number]['linkId'], values: FhirPart[]])[] =
    [
      ['pain-before', integers([answers.painBefore])],
      ['pain-after', integers([answers.painAfter])],
      ['effort', integers([answers.effort])],
      ['effort-after-hold', integers(answers.effortAfterHolds)],
      ['hardest', answers.hardest === null ? [] : [{ valueString: HARDEST_WORDS[answers.hardest] }]],
    ];
  return {
    resourceType: 'QuestionnaireResponse',
    id: derivedId('response', record.id, String(index)),
    questionnaire: questionnaire['url'],
    status: 'completed',
    subject,
    authored: startedAt,
    item: given.flatMap(([linkId, answer]) => {
      const text = SET_QUESTIONS.find((question) => question.linkId === linkId)?.text;
      return answer.length === 0 ? [] : [{ linkId, text, answer }];
    }),
  };
}

/** Answers that were given; what was not answered is left out. */
function integers(ratings: readonly (number | null)[]): FhirPart[] {
  return ratings.flatMap((rating) => (rating === null ? [] : [{ valueInteger: rating }]));
}
