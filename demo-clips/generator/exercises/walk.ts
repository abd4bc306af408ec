import { SIDES, type Body, type Side } from '../body.ts';
import { minimumJerk } from '../motion-script.ts';
import type { Performance } from '../performance.ts';
import type { SeededRandom } from '../seeded-random.ts';
import { bySide, type ArmAngles, type Posture } from '../skeleton.ts';
import type { Vec3 } from '../vector.ts';
import { createLife, hangingArm, headAndBreath } from './life.ts';
import { standingAnkles, standingHipHeight } from './standing.ts';

const ACCELERATION_M_PER_S2 = 1;
const WALKING_SPEED_M_PER_S = 1.15;
/** Step length as a fraction of stature at an easy pace: common experience, no source. */
const STEP_FRACTION = 0.37;
/** Further along the path than this nobody is in the picture any more. */
const GONE_M = 2.7;

/** The person finishes the exercise and walks out of the picture, forward. */
export function leaveAfter(body: Body, exercise: Performance, lastS: number): Performance {
  const leaveS = exercise.durationS;
  return {
    ...exercise,
    durationS: leaveS + lastS,
    postureAt(timeS) {
      const standing = exercise.postureAt(timeS);
      const pathM = walkedM(timeS - leaveS);
      if (standing === null || pathM > GONE_M) return null;
      return pathM === 0 ? standing : walkFrom(body, standing, pathM, 1, minimumJerk((timeS - leaveS) / 0.9));
    },
  };
}

/** Another person walks in from behind and stands where the first one stood. */
export function enterAndStand(
  body: Body,
  arriveS: number,
  durationS: number,
  random: SeededRandom,
): Performance {
  const life = createLife(random.fork('life'));
  const ankles = standingAnkles(body, 0);
  return {
    durationS,
    repetitions: [],
    equipment: {},
    postureAt(timeS) {
      const pathM = walkedM(arriveS - timeS);
      if (pathM > GONE_M) return null;
      const standing: Posture = {
        midHip: [life.swayM(timeS), standingHipHeight(body), 0],
        trunkLeanDeg: 2 + life.trunkDeg(timeS),
        arms: bySide(() => hangingArm(life, timeS)),
        ankles,
        footPitchDeg: { left: 0, right: 0 },
        ...headAndBreath(life, timeS),
      };
      return pathM === 0
        ? standing
        : walkFrom(body, standing, pathM, -1, minimumJerk((arriveS - timeS) / 0.9));
    },
  };
}

/** Path covered since the start: speeding up evenly, then at walking speed. */
function walkedM(sinceS: number): number {
  if (sinceS <= 0) return 0;
  const speedUpS = WALKING_SPEED_M_PER_S / ACCELERATION_M_PER_S2;
  if (sinceS < speedUpS) return 0.5 * ACCELERATION_M_PER_S2 * sinceS ** 2;
  return WALKING_SPEED_M_PER_S * (sinceS - speedUpS / 2);
}

/**
 * Walking posture at a place along the path. Arriving is leaving with time and direction turned round, so one
 * closed form serves both (`direction` 1 leaves forward, -1 is still to come from behind).
 */
function walkFrom(body: Body, standing: Posture, pathM: number, direction: 1 | -1, share: number): Posture {
  const stepM = STEP_FRACTION * body.statureM;
  const swing = direction * Math.sin((Math.PI * pathM) / stepM);
  const feet = bySide((side) => footAlong(side, pathM, stepM));
  const ankles = bySide((side): Vec3 => {
    const [x, y, z] = standing.ankles[side];
    return [x + direction * feet[side].aheadM, y + feet[side].liftM, z];
  });
  const hipX = standing.midHip[0] + direction * pathM;
  const arms = bySide((side): ArmAngles => {
    const arm = standing.arms[side];
    const forward = side === 'left' ? swing : -swing;
    return {
      ...arm,
      shoulderFlexionDeg: arm.shoulderFlexionDeg + share * 17 * forward,
      elbowFlexionDeg: arm.elbowFlexionDeg + share * (8 + 6 * forward),
    };
  });
  return {
    ...standing,
    midHip: [hipX, hipHeightOver(body, hipX, ankles, standing.midHip[1]), standing.midHip[2]],
    trunkLeanDeg: standing.trunkLeanDeg + 3 * share,
    arms,
    ankles,
    footPitchDeg: bySide((side) => direction * feet[side].pitchDeg),
  };
}

/** Where a foot is after some path: planted, or in a swing of two steps (the first one of one step, right foot). */
function footAlong(side: Side, pathM: number, stepM: number) {
  const first = side === 'right' ? 0 : 1;
  const nth = Math.floor(pathM / stepM + 0.5);
  const swinging = nth % 2 === first;
  const step = swinging ? nth : nth - 1;
  if (step < 0) return { aheadM: 0, liftM: 0, pitchDeg: 0 };
  const startM = step === 0 ? 0 : (step - 0.5) * stepM;
  const share = swinging ? (pathM - startM) / ((step + 0.5) * stepM - startM) : 1;
  const fromM = step === 0 ? 0 : (step - 1) * stepM;
  const aheadM = fromM + ((step + 1) * stepM - fromM) * minimumJerk(share);
  const arc = Math.sin(Math.PI * share);
  return { aheadM, liftM: 0.09 * arc, pitchDeg: 22 * arc * Math.cos(Math.PI * share) };
}

/** Highest hip that both legs reach, rounded smoothly so that the hip does not jolt from foot to foot. */
function hipHeightOver(
  body: Body,
  hipX: number,
  ankles: Readonly<Record<Side, Vec3>>,
  standingM: number,
): number {
  const legM = 0.99 * (body.lengths.thigh + body.lengths.shank);
  const softnessM = 0.008;
  const limits = SIDES.map((side) => {
    const [x, y, z] = ankles[side];
    const aside = Math.abs(z) - body.lengths.hipHalfWidth;
    return y + Math.sqrt(legM ** 2 - (x - hipX) ** 2 - aside ** 2);
  });
  const lowest = Math.min(standingM, ...limits);
  const sum = [standingM, ...limits].reduce((total, h) => total + Math.exp((lowest - h) / softnessM), 0);
  return lowest - softnessM * Math.log(sum);
}
