import { isMeasuredExercise, type PlannedExercise } from '../plan/plan.ts';

/** What is to be looked at before an exercise. Common practice, no source. */
const CAUTIONS: Readonly<Record<PlannedExercise['exercise'], readonly string[]>> = {
  hold: [
    'Check the bar and its supports by hand before you pull. Nobody stands beside or under the bar.',
    'Build the force up over 3 to 5 seconds, keep breathing, let go slowly.',
  ],
  'body-curl': [
    'Check that bar or handles hold your weight, and that your feet cannot slip.',
    'Clear the floor behind you, and be ready to step back and stand up.',
  ],
  'band-curl': [
    'Look for cracks and thin places along the whole band, and pull at the anchor once by hand.',
    'Keep your face out of the line of the band, and never let go of it while it is stretched.',
  ],
  'free-curl': [
    'Take the weight with both hands, from a place at the height of your hips.',
    'Keep the floor around you clear, so that you can put it down at any moment.',
  ],
  row: ['Check the bar, the handle or the anchor by hand before you pull.'],
  'chin-up': ['Check that the bar holds your weight. Step down from it; do not drop.'],
  pulling: ['Check what you pull at, and that your feet cannot slip.'],
};

/** Where the supports of a bar let it out, said before the pull. Common practice, no source. */
const SUPPORTS = {
  'open-above': 'The supports are open above: a pull upwards can lift the bar out of them.',
  'open-in-front': 'The supports are open in front: a pull towards you can roll the bar out of them.',
  closed: 'The supports are closed: look that their locks are shut.',
} as const;

/** The cautions of an exercise with the equipment of the plan. */
export function equipmentCautions(planned: PlannedExercise): readonly string[] {
  const isHold = isMeasuredExercise(planned) && planned.exercise === 'hold';
  const supports = isHold && planned.equipment !== null ? [SUPPORTS[planned.equipment.supportShape]] : [];
  return [...CAUTIONS[planned.exercise], ...supports];
}

/** Whether the bar is asked about before the exercise. Common practice, no source. */
export function asksForBarSeat({ exercise }: PlannedExercise): boolean {
  return exercise === 'hold' || exercise === 'body-curl';
}
