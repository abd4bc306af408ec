import type { SetJudgement } from '../../src/core/exercises/judgement.ts';
import { rowSigns, type RowSigns } from '../../src/core/exercises/row-rule.ts';
import { DEFAULT_THRESHOLDS } from '../../src/core/exercises/thresholds.ts';
import {
  countsOf,
  STILL,
  hold,
  STEADY,
  MID_HOLD_SECONDS,
  repetition,
  curlLegs,
  THREE,
  curl,
  HAND,
  strict,
  helped,
  row,
  pullToTheSide,
  flagCases,
  type IndicatorCase,
} from './indicator-figures.ts';
import { COUNT_CASES } from './count-cases.ts';
import { COURSES, type Posture } from './kinematic-traces.ts';

const steadyHold = () => hold(STEADY);
const later = (t: number, change: Omit<Posture, 'elbowDeg'>): Omit<Posture, 'elbowDeg'> =>
  t > MID_HOLD_SECONDS ? change : {};
const ramp = (t: number): number => Math.min(1, Math.max(0, (t - 3) / 10));

const HOLD_CASES: readonly IndicatorCase[] = [
  {
    indicator: 'in the target range',
    situation: 'held at 90',
    expected: true,
    got: () => (steadyHold().holds[0]?.inRangeSeconds ?? 0) > 11.5,
  },
  {
    indicator: 'in the target range',
    situation: 'held at 72',
    expected: false,
    got: () =>
      hold([
        { seconds: 1, to: 72 },
        { seconds: 10, to: 72 },
      ]).holds.some((h) => h.inRangeSeconds > 1.5),
  },
  {
    indicator: 'in the target range',
    situation: 'moved through it slowly, 30 deg/s',
    expected: false,
    got: () =>
      hold([
        { seconds: 1, to: 60 },
        { seconds: 2, to: 120, course: COURSES.linear },
      ]).holds.length > 0,
  },
  ...flagCases(
    'too-straight',
    [
      'sank to 74 and came back',
      () =>
        hold([
          { seconds: 4, to: 90 },
          { seconds: 1.5, to: 74 },
          { seconds: 1, to: 74 },
          { seconds: 1.5, to: 90 },
          { seconds: 4, to: 90 },
        ]),
    ],
    ['held, then let go', steadyHold],
  ),
  ...flagCases(
    'too-bent',
    [
      'drifted out past 100 at 3 deg/s',
      () =>
        hold([
          { seconds: 5, to: 90 },
          { seconds: 6, to: 108, course: COURSES.linear },
          { seconds: 2, to: 108 },
        ]),
    ],
    ['held, then let go', steadyHold],
  ),
  ...flagCases(
    'drifting',
    [
      '86 to 95 in 12 s',
      () =>
        hold([
          { seconds: 0.5, to: 86 },
          { seconds: 12, to: 95, course: COURSES.linear },
        ]),
    ],
    ['held at 90', steadyHold],
  ),
  ...flagCases(
    'unsteady',
    ['swinging by 6 deg at 0.4 Hz', () => hold(STEADY, STILL, (t) => 6 * Math.sin(2 * Math.PI * 0.4 * t))],
    ['tremor of 1.5 deg at 8 Hz', () => hold(STEADY, STILL, (t) => 1.5 * Math.sin(2 * Math.PI * 8 * t))],
  ),
  ...flagCases(
    'forearm-not-level',
    ['upper arm 25 deg forward, elbow at 90', () => hold(STEADY, () => ({ shoulderDeg: 25 }))],
    ['upper arm hanging, elbow at 90', steadyHold],
  ),
  ...flagCases(
    'elbow-forward',
    ['upper arm drifts 15 deg forward', () => hold(STEADY, (t) => ({ shoulderDeg: 15 * ramp(t) }))],
    ['upper arm drifts 4 deg forward', () => hold(STEADY, (t) => ({ shoulderDeg: 4 * ramp(t) }))],
  ),
  ...flagCases(
    'elbow-back',
    ['upper arm drifts 15 deg back', () => hold(STEADY, (t) => ({ shoulderDeg: -15 * ramp(t) }))],
    ['upper arm drifts 4 deg back', () => hold(STEADY, (t) => ({ shoulderDeg: -4 * ramp(t) }))],
  ),
  ...flagCases(
    'elbow-above-shoulder',
    ['upper arm 110 deg forward', () => hold(STEADY, () => ({ shoulderDeg: 110 }))],
    ['upper arm hanging', steadyHold],
  ),
  ...flagCases(
    'hand-rising',
    ['hand 0.2 up after 8 s', () => hold(STEADY, (t) => later(t, { handShift: { forward: 0, up: 0.2 } }))],
    ['hand 0.04 up after 8 s', () => hold(STEADY, (t) => later(t, { handShift: { forward: 0, up: 0.04 } }))],
  ),
  ...flagCases(
    'hand-not-under-bar',
    [
      'hand 0.45 along after 8 s',
      () => hold(STEADY, (t) => later(t, { handShift: { forward: 0.45, up: 0 } })),
    ],
    ['hand stays', steadyHold],
  ),
];

const strictCurl = () => curl('body-curl', THREE, strict);
const rowCurl = () => curl('body-curl', THREE, row);

function signCases(name: keyof RowSigns): IndicatorCase[] {
  const shows = ({ repetitions }: SetJudgement): boolean => {
    if (repetitions.length !== 3) throw new Error(`${name}: ${repetitions.length} repetitions instead of 3.`);
    return repetitions.every((r) => r.row !== null && rowSigns(r.row, DEFAULT_THRESHOLDS)[name]);
  };
  return [
    { indicator: `sign of a row: ${name}`, situation: 'row', expected: true, got: () => shows(rowCurl()) },
    {
      indicator: `sign of a row: ${name}`,
      situation: 'strict curl',
      expected: false,
      got: () => shows(strictCurl()),
    },
  ];
}

const BODY_CURL_CASES: readonly IndicatorCase[] = [
  ...flagCases('shoulder-dominant', ['row', rowCurl], ['strict curl', strictCurl]),
  ...flagCases(
    'shoulder-dominant',
    ['row of a person who bends less', () => curl('body-curl', curlLegs(90, 90, 90), row)],
    ['curl with a little help of the shoulder', () => curl('body-curl', THREE, helped)],
  ),
  ...flagCases(
    'shoulder-dominant',
    [
      'row that goes further back',
      () => curl('body-curl', THREE, (b) => ({ ...row(b), shoulderDeg: 32 - 80 * b })),
    ],
    ['pull to the side of the trunk, a seventh of the work', () => curl('body-curl', THREE, pullToTheSide)],
  ),
  ...flagCases(
    'shoulder-dominant',
    ['row', rowCurl],
    [
      'upper arm goes forward instead',
      () => curl('body-curl', THREE, (b) => ({ ...strict(b), shoulderDeg: 50 + 40 * b })),
    ],
  ),
  ...(['shoulderShare', 'elbowBehindTrunk', 'handClosing'] as const).flatMap(signCases),
  ...flagCases('elbow-behind-trunk', ['row', rowCurl], ['strict curl', strictCurl]),
  ...flagCases(
    'upper-arm-forward',
    [
      'upper arm goes 40 deg forward',
      () => curl('body-curl', THREE, (b) => ({ leanDeg: 40, shoulderDeg: 40 + 40 * b, handAt: HAND })),
    ],
    ['strict curl', strictCurl],
  ),
  ...flagCases(
    'hip-sag',
    ['hip bends by 35 deg', () => curl('body-curl', THREE, (b) => ({ ...strict(b), hipDeg: 180 - 35 * b }))],
    ['hip bends by 5 deg', () => curl('body-curl', THREE, (b) => ({ ...strict(b), hipDeg: 180 - 5 * b }))],
  ),
  ...flagCases(
    'hand-slip',
    [
      'hand slides by 0.5',
      () => curl('body-curl', THREE, (b) => ({ ...strict(b), handShift: { forward: 0.5 * b, up: 0 } })),
    ],
    ['hand stays', strictCurl],
  ),
  ...flagCases(
    'range-middle-missing',
    ['one of four only to 55', () => curl('body-curl', curlLegs(120, 55, 120, 120), strict)],
    ['one of four to 100', () => curl('body-curl', curlLegs(120, 100, 120, 120), strict)],
  ),
  ...flagCases(
    'range-bent-end-missing',
    ['one of four only to 95', () => curl('body-curl', curlLegs(120, 95, 120, 120), strict)],
    ['one of four to 115', () => curl('body-curl', curlLegs(120, 115, 120, 120), strict)],
  ),
  {
    indicator: 'torso travel',
    situation: 'strict curl: the body comes to the hand by more than 15 cm',
    expected: true,
    got: () => travels(strictCurl()),
  },
  {
    indicator: 'torso travel',
    situation: 'standing curl: the body stays',
    expected: false,
    got: () => travels(curl('free-curl', THREE, () => ({}))),
  },
];

function travels({ repetitions }: SetJudgement): boolean {
  if (repetitions.length === 0) throw new Error('torso travel: nothing was judged in this trace.');
  return repetitions.every(({ torsoTravelCm }) => 'value' in torsoTravelCm && torsoTravelCm.value > 15);
}

const armStill = () => curl('free-curl', THREE, () => ({}));
const hasPartial = (judgement: SetJudgement): boolean => countsOf(judgement).partial > 0;

const FREE_ARM_CASES: readonly IndicatorCase[] = [
  {
    indicator: 'partial repetition',
    situation: 'one of four to 65',
    expected: true,
    got: () => hasPartial(curl('free-curl', curlLegs(120, 65, 120, 120), () => ({}))),
  },
  {
    indicator: 'partial repetition',
    situation: 'one of four to 105',
    expected: false,
    got: () => hasPartial(curl('free-curl', curlLegs(120, 105, 120, 120), () => ({}))),
  },
  ...flagCases(
    'upper-arm-moving',
    ['upper arm swings by 35 deg', () => curl('free-curl', THREE, (b) => ({ shoulderDeg: 35 * b }))],
    ['upper arm moves by 6 deg', () => curl('free-curl', THREE, (b) => ({ shoulderDeg: 6 * b }))],
  ),
  ...flagCases(
    'trunk-sway',
    ['from 8 deg forward to 10 back', () => curl('free-curl', THREE, (b) => ({ leanDeg: -8 + 18 * b }))],
    ['by 4 deg', () => curl('free-curl', THREE, (b) => ({ leanDeg: -2 + 4 * b }))],
  ),
  ...flagCases(
    'lowering-fast',
    [
      'lowered in 1.2 s',
      () =>
        curl(
          'free-curl',
          [{ seconds: 1, to: 15 }, ...repetition(120, 1.2), ...repetition(120, 1.2)],
          () => ({}),
        ),
    ],
    ['lowered in 3 s', armStill],
  ),
  ...flagCases(
    'forearm-not-supinated',
    ['thumb up, 5 deg', () => curl('band-curl', THREE, () => ({ forearmRotationDeg: 5 }), 'supinated')],
    ['palm up, 65 deg', () => curl('band-curl', THREE, () => ({ forearmRotationDeg: 65 }), 'supinated')],
  ),
  ...flagCases(
    'forearm-not-turning',
    ['turns by 15 deg', () => curl('band-curl', THREE, (b) => ({ forearmRotationDeg: 15 * b }), 'turning')],
    [
      'turns by 100 deg',
      () => curl('band-curl', THREE, (b) => ({ forearmRotationDeg: -40 + 100 * b }), 'turning'),
    ],
  ),
];

/** For every indicator and flag of judging a trace in which it is true and one in which it is false. */
export const INDICATOR_CASES: readonly IndicatorCase[] = [
  ...HOLD_CASES,
  ...BODY_CURL_CASES,
  ...FREE_ARM_CASES,
  ...COUNT_CASES,
];
