import type { SetJudgement } from '../../src/core/exercises/judgement.ts';
import { countsOf, judged, repetition, THREE, type IndicatorCase } from './indicator-figures.ts';
import { alongLegs, secondsOfLegs, type Leg, type Posture } from './kinematic-traces.ts';

function three(judgement: SetJudgement): boolean {
  const { full, partial } = countsOf(judgement);
  return full === 3 && partial === 0;
}

const threeCurls = (
  before: readonly Leg[],
  after: readonly Leg[] = [],
  extra: (t: number) => Partial<Posture> = () => ({}),
): SetJudgement => {
  const legs = [...before, ...THREE, ...after];
  const level = alongLegs(15, legs);
  return judged('free-curl', secondsOfLegs(legs), (t) => ({ elbowDeg: level(t), ...extra(t) }));
};
const swing = (seconds: number, to: number): Leg[] => [
  { seconds: seconds / 2, to },
  { seconds: seconds / 2, to: 15 },
];

const SITUATIONS: readonly (readonly [string, boolean, () => SetJudgement])[] = [
  [
    'after shaking by 12 deg at 5 Hz',
    true,
    () => threeCurls(Array.from({ length: 20 }, () => swing(0.2, 27)).flat()),
  ],
  ['after a change of grip: 40 deg up and down in 0.5 s', true, () => threeCurls(swing(0.5, 55))],
  ['after walking in with the arms swinging by 40 deg', true, walkedIn],
  ['with half a repetition at the end', true, () => threeCurls([], [{ seconds: 1, to: 110 }])],
  [
    'starting bent',
    true,
    () => {
      const legs: Leg[] = [{ seconds: 1, to: 110 }, { seconds: 1.5, to: 15 }, ...THREE];
      const level = alongLegs(110, legs);
      return judged('free-curl', secondsOfLegs(legs), (t) => ({ elbowDeg: level(t) }));
    },
  ],
  ['arm unseen for 4 s in the third', false, () => threeCurls([], [], unseenBetween(14, 18))],
  ['arm unseen for 0.6 s while lowering', true, () => threeCurls([], [], unseenBetween(4.8, 5.4))],
  ['a fourth follows', false, () => threeCurls([], repetition(120))],
];

/** What is no repetition must not be counted, and what is must. */
export const COUNT_CASES: readonly IndicatorCase[] = SITUATIONS.map(([situation, expected, make]) => ({
  indicator: 'three repetitions',
  situation,
  expected,
  got: () => three(make()),
}));

function walkedIn(): SetJudgement {
  const steps = Array.from({ length: 4 }, () => swing(1.1, 55)).flat();
  const walked = secondsOfLegs(steps);
  return threeCurls(steps, [], (t) => {
    const place = -5 + (5 * Math.min(t, walked)) / walked;
    return { shoulderAt: { forward: place, up: 0 }, ankleShift: place };
  });
}

function unseenBetween(from: number, to: number): (t: number) => Partial<Posture> {
  return (t) => (t > from && t < to ? { unseen: 'arm-not-seen' } : {});
}
