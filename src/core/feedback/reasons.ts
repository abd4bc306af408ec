import type { NotMeasuredReason } from '../kinematics/measured.ts';

/** What to do so that the picture can be measured again. Only reasons that a whole picture can have are mendable. */
const SENTENCES: Readonly<Record<NotMeasuredReason, string>> = {
  nobody: 'Nobody is in the picture. Step into view of the camera.',
  'arm-not-seen': 'The treated arm cannot be seen. Clear the view to shoulder, elbow and wrist.',
  'trunk-not-seen': 'The trunk cannot be seen. Bring shoulder and hip into view.',
  'legs-not-seen': 'The legs cannot be seen. Move the camera back until knees and feet are in view.',
  'hand-not-seen': 'The hand cannot be seen well enough. Turn it towards the camera or bring more light.',
  'hand-too-small':
    'The hand is too small in the picture to tell which way the palm faces. Watch the palm yourself.',
  'outside-picture': 'Part of the arm is outside the picture. Move the camera back or step to the middle.',
  'too-small': 'You are too small in the picture. Move the camera closer.',
  'wrong-side': 'The other arm is nearer to the camera. Turn so that the treated arm is in front.',
  'two-people': 'More than one person is in the picture. Ask the others to step out of view.',
  'too-oblique': 'The camera looks too far from the front or the back. Turn your treated side to it.',
  'tracking-jump': 'The tracking jumped and starts again. Keep still for a moment.',
  'sides-exchanged': 'Left and right could not be told apart. Turn your treated side to the camera.',
  gap: 'Pictures are missing here. Close other programs that use the camera or the processor.',
  'no-stature':
    'The height was not given, so nothing can be said in centimetres. Enter it before the next session.',
  'too-uncertain':
    'The figure is too uncertain to act on. See that nothing hides your arm, bring more light, or turn your side to the camera.',
  'too-short': 'It was too short to be measured.',
  'not-applicable': 'This is not measured in this exercise.',
};

/** What to do about a reason in so few letters (15) that they are read from three metres; null where nothing can be done. */
const SHORT: Readonly<Record<NotMeasuredReason, string | null>> = {
  nobody: 'Step into view',
  'arm-not-seen': 'Clear the arm',
  'trunk-not-seen': 'Show the trunk',
  'legs-not-seen': 'Show your legs',
  'hand-not-seen': 'Show the hand',
  'hand-too-small': null,
  'outside-picture': 'Camera back',
  'too-small': 'Camera closer',
  'wrong-side': 'Turn round',
  'two-people': 'One person only',
  'too-oblique': 'Turn sideways',
  'tracking-jump': 'Keep still',
  'sides-exchanged': 'Turn sideways',
  gap: 'Pictures lack',
  'no-stature': null,
  'too-uncertain': 'Clear the arm',
  'too-short': null,
  'not-applicable': null,
};

/** What to do about a reason, in 15 letters; null where a picture's person can do nothing. */
export function reasonShort(reason: NotMeasuredReason): string | null {
  return SHORT[reason];
}

/** One sentence for a reason: what happened, then what to do about it where something can be done. */
export function reasonSentence(reason: NotMeasuredReason): string {
  return SENTENCES[reason];
}
