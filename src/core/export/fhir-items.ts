import type { Exercise } from '../exercises/exercise.ts';
import type { Hold, Repetition, SetJudgement } from '../exercises/judgement.ts';
import { PLANNED_EXERCISE_WORDS } from '../feedback/dose-words.ts';
import { flagWords } from '../feedback/flag-words.ts';
import { amount, concept, measured, yesOrNo, type FhirPart, type FhirResource } from './fhir-parts.ts';

/** What all observations of a set say of it. */
export interface ObservedSet {
  readonly recordId: string;
  /** Place in the record, counted from 0. */
  readonly setIndex: number;
  readonly exercise: Exercise;
  readonly judgement: SetJudgement;
  /** Subject, time and device. */
  readonly about: FhirPart;
}

/** How a hold or a repetition is called in an observation. */
export type ItemName = 'Hold' | 'Repetition';

/** What an observation of one hold or repetition says beside its figures. */
interface ItemPlace {
  readonly id: string;
  readonly status: string;
  /** What it is, as "Repetition 3". */
  readonly words: string;
  /** Remarks before those of what was noticed. */
  readonly notes: readonly string[];
}

/** The observation of one hold or repetition. */
export function itemObservation(
  item: Hold | Repetition,
  { id, status, words, notes }: ItemPlace,
  { about, exercise }: ObservedSet,
): FhirResource {
  const texts = [...notes, ...item.flags.map(({ kind }) => flagWords(kind).therapist)];
  return {
    resourceType: 'Observation',
    id,
    status,
    ...about,
    code: concept(`${words}: ${PLANNED_EXERCISE_WORDS[exercise]}`),
    component: 'inRangeSeconds' in item ? holdComponents(item) : repetitionComponents(item),
    ...(texts.length === 0 ? {} : { note: texts.map((text) => ({ text })) }),
  };
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
