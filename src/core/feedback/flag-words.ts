import type { FlagKind } from '../exercises/judgement.ts';

/** How one flag is named and explained. The same name stands on screens, in tables and in print. */
export interface FlagWords {
  /** For patients, a few plain words. */
  readonly patient: string;
  /** For therapists, the trade's term. */
  readonly therapist: string;
  /** One or two sentences: what was seen and what it means for the record. */
  readonly meaning: string;
}

const WORDS: Readonly<Record<FlagKind, FlagWords>> = {
  'too-straight': {
    patient: 'Elbow too straight',
    therapist: 'Below the target range',
    meaning: 'The elbow was straighter than the target range. This time does not count as held.',
  },
  'too-bent': {
    patient: 'Elbow too bent',
    therapist: 'Above the target range',
    meaning: 'The elbow was bent further than the target range. This time does not count as held.',
  },
  drifting: {
    patient: 'Angle drifting',
    therapist: 'Drift within the hold',
    meaning: 'The elbow angle moved steadily one way during the hold. The time in the range still counts.',
  },
  unsteady: {
    patient: 'Unsteady',
    therapist: 'Unsteady hold',
    meaning: 'The elbow angle wavered during the hold. The time in the range still counts.',
  },
  'forearm-not-level': {
    patient: 'Forearm not level',
    therapist: 'Forearm off the horizontal',
    meaning: 'The forearm was tilted out of the level, so the bar did not press straight down across it.',
  },
  'elbow-forward': {
    patient: 'Elbow moved forward',
    therapist: 'Elbow in front of the shoulder',
    meaning: 'The elbow stood or moved in front of the shoulder, which shares the load with the shoulder.',
  },
  'elbow-back': {
    patient: 'Elbow moved back',
    therapist: 'Elbow behind the shoulder',
    meaning: 'The elbow stood or moved behind the shoulder, which shares the load with the shoulder.',
  },
  'elbow-above-shoulder': {
    patient: 'Elbow above the shoulder',
    therapist: 'Elbow above the shoulder',
    meaning: 'The elbow was not below the shoulder, so this was not the position that was asked for.',
  },
  'hand-rising': {
    patient: 'Hand rising, bar lifting',
    therapist: 'Hand rising (bar lifting)',
    meaning: 'The hand rose, as it does when the bar lifts: the force went past what the bar resists.',
  },
  'hand-not-under-bar': {
    patient: 'Hand not under the bar',
    therapist: 'Hand not under the bar',
    meaning: 'The hand did not push the bar upwards from below, so the direction of the force is not known.',
  },
  'shoulder-dominant': {
    patient: 'Shoulder-led',
    therapist: 'Shoulder-dominant (row pattern)',
    meaning:
      'The shoulder did more of the work of lifting than the elbow (or than the share that was set), or may have done so and moved as in a row. The repetition counts and is marked.',
  },
  'elbow-behind-trunk': {
    patient: 'Elbow behind the body',
    therapist: 'Elbow behind the trunk',
    meaning: 'The elbow went behind the line from shoulder to hip, as in a row.',
  },
  'upper-arm-forward': {
    patient: 'Upper arm moved forward',
    therapist: 'Upper arm forward',
    meaning: 'The upper arm went forward while the elbow bent. This is not a row, and it is reported apart.',
  },
  'hip-sag': {
    patient: 'Hips sagged',
    therapist: 'Hip sag',
    meaning: 'The body bent at the hip during the repetition, so less of its weight came to the hands.',
  },
  'hand-slip': {
    patient: 'Hand left its place',
    therapist: 'Hand slip',
    meaning: 'The hand did not stay where it was. The judgement of curl or row relies on a hand that stays.',
  },
  'upper-arm-moving': {
    patient: 'Upper arm moving',
    therapist: 'Upper arm not still',
    meaning: 'The upper arm swung along while the elbow bent, which takes load off the elbow.',
  },
  'trunk-sway': {
    patient: 'Body swaying',
    therapist: 'Trunk sway',
    meaning: 'The trunk swayed during the repetition, which lends momentum to the movement.',
  },
  'lowering-fast': {
    patient: 'Lowered too fast',
    therapist: 'Eccentric phase fast',
    meaning: 'The lowering was quicker than planned. The repetition counts and is marked.',
  },
  'forearm-not-supinated': {
    patient: 'Palm not up',
    therapist: 'Forearm not held supinated',
    meaning: 'The forearm did not stay with the palm up. Its rotation is a coarse value.',
  },
  'forearm-not-turning': {
    patient: 'Forearm not turning',
    therapist: 'Forearm rotation missing',
    meaning: 'The forearm did not turn along with the bending as planned. Its rotation is a coarse value.',
  },
  'range-middle-missing': {
    patient: 'Middle of the movement missing',
    therapist: 'Middle range not used',
    meaning: 'The repetition did not pass through the middle of the range.',
  },
  'range-bent-end-missing': {
    patient: 'Bent end missing',
    therapist: 'Bent end of range not used',
    meaning: 'The repetition ended before the bent end of the range.',
  },
};

/** Name and meaning of a flag. */
export function flagWords(kind: FlagKind): FlagWords {
  return WORDS[kind];
}
