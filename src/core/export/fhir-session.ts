import type { Hold, Repetition } from '../exercises/judgement.ts';
import { HARDEST_WORDS } from '../feedback/answer-words.ts';
import { PLANNED_EXERCISE_WORDS } from '../feedback/dose-words.ts';
import { flagWords } from '../feedback/flag-words.ts';
import type { RecordOutline, SetOutline } from '../session/record-opener.ts';
import {
  amount,
  collection,
  concept,
  derivedId,
  measured,
  painConcept,
  programDevice,
  provenance,
  quantity,
  referenceTo,
  unnamedPatient,
  yesOrNo,
  type FhirPart,
  type FhirResource,
} from './fhir-parts.ts';

/**
 * A session as a FHIR R4 bundle: an observation for each set, with one for each hold and repetition under it, what was
 * asked and answered, the program, and where it comes from. It holds what the program judged; corrections stand in the
 * review.
 * @param moment - when the bundle is made, with offset
 */
export function fhirSession(record: RecordOutline, moment: string): FhirResource {
  const device = programDevice(record.software);
  const patient = unnamedPatient(record.plan?.planId ?? record.id);
  const questions = setQuestionnaire();
  const of = { record, subject: referenceTo(patient), device: referenceTo(device) };
  const sets = record.sets.map((set, index) => observationsOfSet(set, index, of));
  const answers = record.sets.map((set, index) => responseOf(set, index, of, questions));
  const observed = sets.flat();
  const source = { id: record.id, display: 'Session record' };
  const made = [...observed, ...answers];
  return collection(derivedId('session-bundle', record.id), moment, [
    patient,
    device,
    questions,
    ...made,
    ...(made.length === 0 ? [] : [provenance(made, device, source, moment, null)]),
  ]);
}

interface Session {
  readonly record: RecordOutline;
  readonly subject: FhirPart;
  readonly device: FhirPart;
}

/** The observation of a set, and those of its holds and repetitions before it. */
function observationsOfSet(set: SetOutline, index: number, session: Session): FhirResource[] {
  const { record, subject, device } = session;
  const { exercise, side } = record.settings;
  const about = { status: 'final', subject, effectiveDateTime: set.startedAt, device };
  const parts = [
    ...set.judgement.holds.map((hold, place) => part(hold, place, 'Hold', holdComponents(hold))),
    ...set.judgement.repetitions.map((each, place) =>
      part(each, place, 'Repetition', repetitionComponents(each)),
    ),
  ];
  function part(item: Hold | Repetition, place: number, name: string, component: FhirPart[]): FhirResource {
    return {
      resourceType: 'Observation',
      id: derivedId('observation', record.id, String(index), name, String(place)),
      ...about,
      code: concept(`${name} ${place + 1}: ${PLANNED_EXERCISE_WORDS[exercise]}`),
      component,
      ...(item.flags.length === 0
        ? {}
        : { note: item.flags.map(({ kind }) => ({ text: flagWords(kind).therapist })) }),
    };
  }
  const { share, totalSeconds } = set.measuredTime;
  const whole: FhirResource = {
    resourceType: 'Observation',
    id: derivedId('observation', record.id, String(index)),
    ...about,
    code: concept(`Set ${index + 1}: ${PLANNED_EXERCISE_WORDS[exercise]}`),
    bodySite: concept(`${side === 'left' ? 'Left' : 'Right'} elbow`),
    method: concept('Landmarks of the body in video from one camera'),
    component: [
      ...amount('Length of the set', totalSeconds, 's'),
      ...amount('Part of the time with a measured elbow', share, 'percent'),
      ...amount('Holds', set.judgement.holds.length, 'count'),
      ...amount('Repetitions, partial ones included', set.judgement.repetitions.length, 'count'),
      ...amount('Least elbow flexion', set.elbowFlexion?.leastDeg ?? null, 'deg'),
      ...amount('Largest elbow flexion', set.elbowFlexion?.mostDeg ?? null, 'deg'),
      ...pain('Pain before the set', set.answers.painBefore),
      ...pain('Pain after the set', set.answers.painAfter),
      ...amount('Effort felt over the set', set.answers.effort, 'score'),
    ],
    ...(parts.length === 0 ? {} : { hasMember: parts.map(referenceTo) }),
    ...(set.cutOff ? { note: [{ text: 'Recording broke off before the set was ended.' }] } : {}),
  };
  return [...parts, whole];
}

function pain(text: string, rating: number | null): FhirPart[] {
  return rating === null ? [] : [{ code: painConcept(text), valueQuantity: quantity(rating, 'score') }];
}

function holdComponents(hold: Hold): FhirPart[] {
  return [
    ...amount('Start, in the time of the set', hold.startSeconds, 's'),
    ...amount('End, in the time of the set', hold.endSeconds, 's'),
    ...amount('Time in the target range', hold.inRangeSeconds, 's'),
    ...amount(
      'Part of the time from first entry to last exit in the target range',
      hold.inRangeShare,
      'percent',
    ),
    ...measured('Elbow flexion, mean', hold.meanFlexionDeg, 'deg'),
    ...amount('Elbow flexion, standard deviation', hold.flexionSdDeg, 'deg'),
    ...measured('Drift of elbow flexion', hold.driftDegPer10s, 'degPer10s'),
    ...measured('Forearm from the horizontal', hold.forearmFromHorizontalDeg, 'deg'),
    ...measured('Elbow in front of the shoulder', hold.elbowForwardUpperArms, 'upperArms'),
    ...measured('Rise of the hand', hold.handRiseUpperArms, 'upperArms'),
  ];
}

function repetitionComponents(each: Repetition): FhirPart[] {
  return [
    ...amount('Start, in the time of the set', each.startSeconds, 's'),
    ...amount('End, in the time of the set', each.endSeconds, 's'),
    ...yesOrNo('Partial repetition', each.partial),
    ...yesOrNo('Shoulder-dominant', each.shoulderDominant),
    ...amount('Time of bending', each.shorteningSeconds, 's'),
    ...amount('Time at the top', each.topSeconds, 's'),
    ...amount('Time of lowering', each.loweringSeconds, 's'),
    ...amount('Mean speed of lowering', each.loweringSpeedDegPerS, 'degPerS'),
    ...measured('Elbow flexion at the start', each.startFlexionDeg, 'deg'),
    ...measured('Elbow flexion at the top', each.topFlexionDeg, 'deg'),
    ...measured('Range of elbow flexion', each.rangeDeg, 'deg'),
    ...measured('Travel of the torso', each.torsoTravelCm, 'cm'),
    ...measured('Movement of the upper arm', each.upperArmMovementDeg, 'deg'),
    ...measured('Sway of the trunk', each.trunkSwayDeg, 'deg'),
    ...(each.row === null
      ? []
      : measured("Shoulder's share of the work", each.row.shoulderWorkShare, 'percent')),
  ];
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
  { record, subject }: Session,
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
