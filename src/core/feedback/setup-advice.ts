import { mustBeInView } from '../exercises/camera-place.ts';
import type { Exercise } from '../exercises/exercise.ts';
import type { Side } from '../pose/landmark.ts';
import type { SetupFacts } from '../pose/setup-facts.ts';

/** What is wrong with the view, the most important first; 'good' when nothing is. */
export type SetupFinding =
  | 'too-dark'
  | 'nobody'
  | 'several-people'
  | 'too-bright'
  | 'too-far'
  | 'arm-cut-off'
  | 'trunk-cut-off'
  | 'feet-cut-off'
  | 'other-side-near'
  | 'too-oblique'
  | 'arm-hidden'
  | 'rather-oblique'
  | 'rather-far'
  | 'good';

/** Findings with which measuring goes, though less surely. */
const USABLE: ReadonlySet<SetupFinding> = new Set(['good', 'too-bright', 'rather-oblique', 'rather-far']);

/** One sentence that says what to change, or that the view is good. */
export interface SetupAdvice {
  readonly finding: SetupFinding;
  readonly isGood: boolean;
  /** True when a set can be measured with this view, even if it could be better. */
  readonly isUsable: boolean;
  /** The same in so few letters (15) that they are read from three metres. */
  readonly short: string;
  readonly sentence: string;
}

/** Bounds of a good view. None has a published source: they are chosen for this network and this kind of exercise. */
const LIMITS = {
  /** Mean brightness, 0 to 255. Indoor pictures lie between 80 and 170. */
  darkBelow: 45,
  brightAbove: 225,
  /** The turn from which the error of the angle grows, and the one beyond which nothing is measured, degrees. */
  ratherObliqueDeg: 25,
  tooObliqueDeg: 50,
  /** An upper arm of fewer pixels than this makes the scatter of the landmarks count, pixels. */
  ratherFarUpperArmPx: 45,
} as const;

/** What to do in a few letters. */
const SHORT: Readonly<Record<SetupFinding, string>> = {
  'too-dark': 'More light',
  nobody: 'Step into view',
  'several-people': 'One person only',
  'too-bright': 'Less light',
  'too-far': 'Camera closer',
  'arm-cut-off': 'Camera back',
  'trunk-cut-off': 'Camera back',
  'feet-cut-off': 'Show your feet',
  'other-side-near': 'Turn round',
  'too-oblique': 'Turn sideways',
  'arm-hidden': 'Clear the arm',
  'rather-oblique': 'Turn a little',
  'rather-far': 'Camera closer',
  good: 'View is good',
};

/** Says in one sentence what to change about the view, for the person whose arm of the given side is treated. */
export function setupAdvice(facts: SetupFacts, side: Side, exercise: Exercise): SetupAdvice {
  const finding = findingOf(facts, exercise);
  return {
    finding,
    isGood: finding === 'good',
    isUsable: USABLE.has(finding),
    short: SHORT[finding],
    sentence: sentenceOf(finding, side, facts),
  };
}

function findingOf(facts: SetupFacts, exercise: Exercise): SetupFinding {
  const { brightness, people } = facts;
  if (brightness !== null && brightness < LIMITS.darkBelow) return 'too-dark';
  if (!facts.personFound) return 'nobody';
  if (people !== null && people > 1) return 'several-people';
  if (facts.tooSmall) return 'too-far';
  if (!facts.wholeArmInPicture) return 'arm-cut-off';
  if (!facts.trunkInPicture) return 'trunk-cut-off';
  if (mustBeInView(exercise).includes('feet') && !facts.legsInPicture) return 'feet-cut-off';
  if (facts.nearSide === 'other') return 'other-side-near';
  const turnDeg = facts.yawDeg === null ? null : Math.abs(facts.yawDeg);
  if (turnDeg !== null && turnDeg > LIMITS.tooObliqueDeg) return 'too-oblique';
  if (!facts.armSeen) return 'arm-hidden';
  if (brightness !== null && brightness > LIMITS.brightAbove) return 'too-bright';
  if (turnDeg === null || turnDeg > LIMITS.ratherObliqueDeg) return 'rather-oblique';
  if (facts.upperArmPx !== null && facts.upperArmPx < LIMITS.ratherFarUpperArmPx) return 'rather-far';
  return 'good';
}

function sentenceOf(finding: SetupFinding, side: Side, { yawDeg }: SetupFacts): string {
  const arm = `your ${side} arm`;
  switch (finding) {
    case 'too-dark':
      return 'Bring more light: the picture is too dark.';
    case 'nobody':
      return 'Step into view of the camera: nobody is seen.';
    case 'several-people':
      return 'Let only one person be in the picture: ask the others to step out of view.';
    case 'too-bright':
      return 'Turn the camera away from the window: the picture is very bright.';
    case 'too-far':
      return 'Move the camera closer: you are too small in the picture.';
    case 'arm-cut-off':
      return `Move the camera back until the whole of ${arm} is in the picture, hand included.`;
    case 'trunk-cut-off':
      return 'Move the camera until your shoulders and hips are in the picture.';
    case 'feet-cut-off':
      return 'Move the camera back until your feet are in the picture: without them curl and row cannot be told apart.';
    case 'other-side-near':
      return `Turn round, so that ${arm} is the one nearer to the camera.`;
    case 'too-oblique':
      return `Turn ${arm} towards the camera: it sees you too far from the ${fromWhere(yawDeg)}.`;
    case 'arm-hidden':
      return `Clear the view to ${arm}: shoulder, elbow and wrist must be seen.`;
    case 'rather-oblique':
      return yawDeg === null
        ? `Stand with ${arm} square to the camera.`
        : `Turn ${arm} a little more towards the camera: it sees you from the ${fromWhere(yawDeg)}, and the angle gets less sure.`;
    case 'rather-far':
      return 'Move the camera a little closer: the angle gets surer.';
    case 'good':
      return 'The view is good: arm and trunk are seen from the side.';
  }
}

/** The body shows more of its front (positive turn) or of its back. */
function fromWhere(yawDeg: number | null): 'front' | 'back' {
  return (yawDeg ?? 0) >= 0 ? 'front' : 'back';
}
