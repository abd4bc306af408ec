import { anchorMove, turnsPalmDown, type AnchorMove } from '../loads/light-tension.ts';
import { USUAL_RANGE } from '../loads/loaded-exercise.ts';
import type { PlannedExercise, PlanPerson } from '../plan/plan.ts';

/** What the light-tension test of a band asks. Common practice, no source. */
export const LIGHT_TENSION_TASK =
  'Take up the band until it is just tight. Let the forearm go loose. Which way does the palm turn?';

/** What to do when the palm does not turn down. */
export const LIGHT_TENSION_REFUSED =
  'Do not start the set. Move the anchor, then take the band up lightly and look again.';

const MOVE_WORDS: Readonly<Record<AnchorMove, string>> = {
  outward: 'further out to the side of the treated arm',
  inward: 'further across, towards the other side',
  forward: 'further ahead of you',
  back: 'further behind you',
  up: 'higher',
  down: 'lower',
};

/**
 * What the calculation says of the test, from the band as the plan describes it; null where the plan does not. The eye
 * decides.
 */
export function lightTensionSentence(planned: PlannedExercise, person: PlanPerson): string | null {
  if (planned.exercise !== 'band-curl' || planned.equipment === null) return null;
  const { startFlexionDeg } = planned.range ?? USUAL_RANGE;
  const flexionDeg = Math.max(0, startFlexionDeg);
  if (turnsPalmDown(planned.equipment, person, flexionDeg))
    return 'By calculation this band turns a loose forearm palm down. What you see counts.';
  const move = anchorMove(planned.equipment, person, flexionDeg);
  const advice =
    move === null ? 'Ask your therapist how to fasten it.' : `Try the anchor ${MOVE_WORDS[move]}.`;
  return `By calculation this band does not turn a loose forearm palm down. ${advice} What you see counts.`;
}
