import { cameraPlace, type CameraPlace } from '../exercises/camera-place.ts';
import type { Exercise, ExerciseSettings } from '../exercises/exercise.ts';
import { isMeasured, type Measured } from '../kinematics/measured.ts';
import { otherSide, type Side } from '../pose/landmark.ts';
import type { Approach } from './approach.ts';
import { figureWords, FORMS } from './measure-words.ts';
import type { Role } from './live-words.ts';
import type { SetupAdvice } from './setup-advice.ts';

/** What is told at a step of the approach. */
export interface ApproachWords {
  readonly role: Role;
  /** In so few letters (15) that they are read from three metres. */
  readonly short: string;
  /** Read near by, and spoken. */
  readonly sentence: string;
  /** A correction is spoken again while it persists. */
  readonly isCorrection: boolean;
}

/** What the words depend on. */
export interface ApproachMoment {
  readonly approach: Approach;
  readonly settings: Pick<ExerciseSettings, 'side' | 'statureCm'>;
  readonly advice: SetupAdvice | null;
  /** No picture comes. */
  readonly isStalled: boolean;
  readonly elbowFlexionDeg: Measured;
  readonly target: { readonly low: number; readonly high: number } | null;
  /** Of the bar above the floor where it is known, metres. */
  readonly barHeightM: number | null;
}

/** What to do at a step, in a few letters and in a sentence. */
export function approachWords(moment: ApproachMoment): ApproachWords {
  const { approach } = moment;
  switch (approach.step) {
    case 'what-to-do':
      return quiet('Watch first', 'Watch how it is done, and what often goes wrong.');
    case 'where-to-stand':
      return whereToStand(moment);
    case 'right-angle':
      return rightAngle(moment);
    case 'test-pull':
      return quiet('Pull lightly', TEST_PULL[approach.exercise === 'hold' ? 'hold' : 'hang']);
    case 'ready':
      return {
        role: 'within',
        short: 'Go',
        sentence: 'Take your position. The set can begin.',
        isCorrection: false,
      };
  }
}

/** Common practice, no source. */
const TEST_PULL = {
  hold: 'Pull lightly for a few seconds. The bar must stay in its supports. If anything moves, let go and step away.',
  hang: 'Hang back a little for a few seconds, feet ready to step. If anything moves, stand up and step away.',
} as const;

function quiet(short: string, sentence: string): ApproachWords {
  return { role: 'quiet', short, sentence, isCorrection: false };
}

function correction(short: string, sentence: string): ApproachWords {
  return { role: 'attention', short, sentence, isCorrection: true };
}

function whereToStand({ approach, settings, advice, isStalled }: ApproachMoment): ApproachWords {
  if (isStalled)
    return correction('No picture', 'No picture comes. Look whether the camera is covered or in use.');
  if (advice === null) return quiet('Camera starts', cameraPlaceSentence(approach.exercise, settings));
  if (advice.finding === 'nobody')
    return correction(advice.short, cameraPlaceSentence(approach.exercise, settings));
  if (advice.isGood)
    return { role: 'within', short: advice.short, sentence: advice.sentence, isCorrection: false };
  return correction(advice.short, advice.sentence);
}

function rightAngle({ approach, elbowFlexionDeg, target, barHeightM }: ApproachMoment): ApproachWords {
  const angleDeg = target === null ? 90 : (target.low + target.high) / 2;
  const angle = angleDeg === 90 ? 'a right angle' : `${String(Math.round(angleDeg))} deg`;
  if (approach.hasMoved && approach.inRangeSinceSeconds === null)
    return correction(
      'Check the bar',
      'The hand moved in the light pull. Look at the bar and its supports, then stand as before.',
    );
  if (target === null || !isMeasured(elbowFlexionDeg))
    return quiet(
      'Hand underneath',
      `${barHeightSentence(barHeightM)}Put the hand under the bar, palm up, elbow at ${angle}. No effort yet.`,
    );
  const now = `${figureWords(elbowFlexionDeg.value, FORMS.angleDeg)} ${FORMS.angleDeg.unit}`;
  if (elbowFlexionDeg.value < target.low)
    return correction(
      'Bar higher',
      `The elbow is at ${now}, straighter than ${angle}. Set the bar higher or bend the knees. No effort yet.`,
    );
  if (elbowFlexionDeg.value > target.high)
    return correction(
      'Bar lower',
      `The elbow is at ${now}, more bent than ${angle}. Set the bar lower or stand on something firm. No effort yet.`,
    );
  return {
    role: 'within',
    short: 'Angle is right',
    sentence: `The elbow is at ${now}. Keep it there, no effort yet.`,
    isCorrection: false,
  };
}

/** How high the bar lies: "Set the bar at about 110 cm. "; empty where it is not known. */
export function barHeightSentence(barHeightM: number | null): string {
  return barHeightM === null ? '' : `Set the bar at about ${centimetres(barHeightM)} cm above the floor. `;
}

/** Where the camera goes for an exercise, which side to turn towards it, and how far away. */
function cameraPlaceSentence(
  exercise: Exercise,
  { side, statureCm }: Pick<ExerciseSettings, 'side' | 'statureCm'>,
): string {
  const place = cameraPlace(exercise, statureCm);
  return `Put the camera level, as high as ${place.asHighAs}, ${distanceWords(place)} from your ${side} side, and turn your ${side} arm towards it.`;
}

/** What the drawing of the camera's place shows, for those who do not see it. */
export function cameraPlaceDescription(exercise: Exercise, side: Side, place: CameraPlace): string {
  const legs = exercise === 'body-curl' ? ', the feet included' : '';
  return `Seen from above: you, and the camera ${distanceWords(place)} away at your ${side} side, not at the ${otherSide(side)}. It sees your ${side} arm and your trunk from the side${legs}. It stands ${centimetres(place.heightM)} cm above the floor.`;
}

/** "2.5 m". */
export function distanceWords({ distanceM }: Pick<CameraPlace, 'distanceM'>): string {
  return `${distanceM.toFixed(distanceM % 1 === 0 ? 0 : 1)} m`;
}

function centimetres(metres: number): string {
  return String(Math.round(metres * 20) * 5);
}
