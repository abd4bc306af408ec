import type { Side } from '../pose/landmark.ts';
import type { SetupAdvice, SetupFinding } from './setup-advice.ts';

/** What stands there while the framed tile no longer fits the shared picture. */
export const TILE_OFF =
  'The shared picture has another size than when the person was framed, so nothing is measured: somebody else may be in that place now. End the set if one runs, go to Begin and frame the person anew.';

/**
 * The advice about the view in words for whoever watches a call: what to ask of the person on the other side, whose camera it is,
 * and what to do about the window. side: the treated one.
 */
export function sharedAdvice(advice: SetupAdvice, side: Side): SetupAdvice {
  return { ...advice, sentence: sentenceOf(advice.finding, side) };
}

function sentenceOf(finding: SetupFinding, side: Side): string {
  const arm = `their ${side} arm`;
  switch (finding) {
    case 'too-dark':
      return 'The shared picture is black or very dark: bring the call’s window back if it is minimised, else ask the person for more light.';
    case 'nobody':
      return 'Nobody is seen in what is measured. Frame the person, or ask them to step into view.';
    case 'several-people':
      return 'Several people are seen: frame the tile of the treated person only.';
    case 'too-bright':
      return 'The picture is very bright: ask the person to turn the camera away from the window.';
    case 'too-far':
      return 'The person is too small: make their tile larger in the call, and ask them to come closer to the camera.';
    case 'arm-cut-off':
      return `Part of the arm is outside: ask the person to move back until the whole of ${arm} is in their tile, hand included, or frame more of it.`;
    case 'trunk-cut-off':
      return 'Shoulders and hips must be in what is measured: ask the person to move back, or frame more of their tile.';
    case 'feet-cut-off':
      return 'The feet must be in what is measured: ask the person to move back. Without feet, curl and row cannot be told apart.';
    case 'other-side-near':
      return `The other arm is the nearer one: ask the person to turn round, so that ${arm} is nearer to the camera. If it is already, the tile is a mirror: say so where you frame it.`;
    case 'too-oblique':
    case 'rather-oblique':
      return `Ask the person to turn ${arm} square to the camera: the more it sees them from front or back, the less sure the angle.`;
    case 'arm-hidden':
      return `Ask the person to clear the view to ${arm}: shoulder, elbow and wrist must be seen, and no blurred background may eat them.`;
    case 'rather-far':
      return 'The person is rather small: a larger tile makes the angle surer.';
    case 'good':
      return 'The view is good: arm and trunk are seen from the side.';
  }
}
