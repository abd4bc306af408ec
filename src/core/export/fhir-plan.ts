import { daysAWeekWords, doseWords, PLANNED_EXERCISE_WORDS, tempoWords } from '../feedback/dose-words.ts';
import { painRulesWords } from '../feedback/pain-words.ts';
import { PLAN_QUESTION_WORDS } from '../feedback/safety-words.ts';
import type { Plan, PlannedExercise, Stage } from '../plan/plan.ts';
import { PLAN_QUESTIONS } from '../plan/safety-questions.ts';
import {
  collection,
  concept,
  derivedId,
  programDevice,
  provenance,
  referenceTo,
  unnamedPatient,
  type FhirPart,
  type FhirResource,
} from './fhir-parts.ts';

/**
 * A version of a plan as a FHIR R4 bundle: the care plan with what is asked in each stage, the questions before it with
 * their answers, the program, and where it comes from. The plan's label is left out: it may be a name.
 * @param moment - when the bundle is made, with offset
 */
export function fhirPlan(
  plan: Plan,
  software: { readonly name: string; readonly version: string },
  moment: string,
): FhirResource {
  const device = programDevice(software);
  const patient = unnamedPatient(plan.id);
  const questions = planQuestionnaire();
  const carePlan: FhirResource = {
    resourceType: 'CarePlan',
    id: derivedId('care-plan', plan.id, String(plan.version)),
    identifier: [{ system: 'urn:ietf:rfc:3986', value: `urn:uuid:${plan.id}` }],
    status: 'active',
    intent: 'plan',
    title: `Loading of the ${plan.person.treatedSide} distal biceps tendon, version ${plan.version}`,
    description: plan.reason,
    subject: referenceTo(patient),
    period: { start: plan.writtenAt },
    created: plan.writtenAt,
    activity: plan.stages.flatMap((stage) =>
      stage.exercises.map((exercise) => activityOf(exercise, stage, plan.stageKey)),
    ),
    note: painRulesWords(plan.painRules).map((text) => ({ text })),
  };
  const answers = screeningResponse(plan, patient, questions);
  const made = [carePlan, ...answers];
  const source = { id: plan.id, display: `Plan, version ${plan.version}` };
  return collection(derivedId('plan-bundle', plan.id, String(plan.version)), moment, [
    patient,
    device,
    questions,
    ...made,
    provenance(made, device, source, moment, 'The therapist who wrote the plan; not identified'),
  ]);
}

function activityOf(exercise: PlannedExercise, stage: Stage, stageKey: string): FhirPart {
  const { dose, note } = exercise;
  const asked = [
    doseWords(dose),
    tempoWords(dose),
    `${dose.restSeconds} s rest between sets`,
    daysAWeekWords(dose),
  ];
  return {
    detail: {
      code: concept(PLANNED_EXERCISE_WORDS[exercise.exercise]),
      status: stage.key === stageKey ? 'scheduled' : 'not-started',
      scheduledTiming: { repeat: { frequency: dose.daysAWeek, period: 1, periodUnit: 'wk' } },
      description: `Stage "${stage.name}": ${asked.filter((words) => words !== '').join(', ')}.${note === null ? '' : ` ${note}`}`,
    },
  };
}

function planQuestionnaire(): FhirResource {
  const item = PLAN_QUESTIONS.map((question) => ({
    linkId: question,
    text: PLAN_QUESTION_WORDS[question].question,
    type: 'boolean',
  }));
  const id = derivedId('questionnaire', 'plan', ...item.map(({ text }) => text));
  return {
    resourceType: 'Questionnaire',
    id,
    url: `urn:uuid:${id}`,
    title: 'Questions before the first plan',
    status: 'active',
    item,
  };
}

/** None before the questions were asked. */
function screeningResponse(
  { id, version, screening }: Plan,
  patient: FhirResource,
  questionnaire: FhirResource,
): FhirResource[] {
  if (screening === null) return [];
  return [
    {
      resourceType: 'QuestionnaireResponse',
      id: derivedId('response', id, String(version)),
      questionnaire: questionnaire['url'],
      status: 'completed',
      subject: referenceTo(patient),
      authored: screening.answeredAt,
      item: PLAN_QUESTIONS.map((question) => ({
        linkId: question,
        text: PLAN_QUESTION_WORDS[question].question,
        answer: [{ valueBoolean: screening.yes.includes(question) }],
      })),
    },
  ];
}
