import { describe, expect, it } from 'vitest';
import { createBody, SEGMENT_FRACTIONS, SIDES } from '../../../demo-clips/generator/body.ts';
import { CLIPS } from '../../../demo-clips/generator/clips.ts';
import { createScenario, posePhantom, poseSkeletons } from '../../../demo-clips/generator/scenario.ts';
import { createRandom } from '../../../demo-clips/generator/seeded-random.ts';
import { buildSkeleton, type Posture } from '../../../demo-clips/generator/skeleton.ts';
import { angleBetweenDeg, distance, dot, subtract, type Vec3 } from '../../../demo-clips/generator/vector.ts';
import { PLAIN_LOOKS } from '../../helpers/plain-looks.ts';

const SCENARIOS = CLIPS.map((outline) => [outline.name, createScenario(outline)] as const);
/** Every tenth frame: enough to meet each phase of each repetition. */
const STEP_S = 1 / 3;

function* moments(durationS: number): Generator<number> {
  for (let timeS = 0; timeS < durationS; timeS += STEP_S) yield timeS;
}

/** Shoulder flexion from joint places alone: upper arm against the trunk within the sagittal plane. */
function shoulderFlexionFromJoints(shoulder: Vec3, elbow: Vec3, midHip: Vec3, midShoulder: Vec3): number {
  const trunk = subtract(midShoulder, midHip);
  const forward: Vec3 = [trunk[1], -trunk[0], 0];
  const upperArm = subtract(elbow, shoulder);
  return (Math.atan2(dot(upperArm, forward), -dot(upperArm, trunk)) * 180) / Math.PI;
}

describe.each(SCENARIOS)('the figure in %s', (_name, scenario) => {
  it('keeps the length of every segment in every posture', () => {
    for (const timeS of moments(scenario.durationS)) {
      poseSkeletons(scenario, timeS).forEach((skeleton, index) => {
        if (skeleton === null) return;
        const { joints } = skeleton;
        const lengths = scenario.people[index]?.body.lengths;
        if (lengths === undefined) throw new Error('A skeleton needs a body.');
        expect(distance(joints.midHip, joints.midShoulder)).toBeCloseTo(lengths.trunk, 9);
        for (const side of SIDES) {
          const at = (joint: 'Shoulder' | 'Elbow' | 'Wrist' | 'Hip' | 'Knee' | 'Ankle') =>
            joints[`${side}${joint}`];
          expect(distance(at('Shoulder'), at('Elbow'))).toBeCloseTo(lengths.upperArm, 9);
          expect(distance(at('Elbow'), at('Wrist'))).toBeCloseTo(lengths.forearm, 9);
          expect(distance(at('Hip'), at('Knee'))).toBeCloseTo(lengths.thigh, 9);
          expect(distance(at('Knee'), at('Ankle'))).toBeCloseTo(lengths.shank, 9);
        }
      });
    }
  });

  it('states angles that follow from the joint places', () => {
    const { side } = scenario.outline;
    for (const timeS of moments(scenario.durationS)) {
      const pose = posePhantom(scenario, timeS);
      if (pose === null) continue;
      const { joints } = pose;
      const [shoulder, elbow, wrist] = [
        joints[`${side}Shoulder`],
        joints[`${side}Elbow`],
        joints[`${side}Wrist`],
      ];
      const elbowDeg = angleBetweenDeg(subtract(elbow, shoulder), subtract(wrist, elbow));
      expect(pose.elbowFlexionDeg).toBeCloseTo(elbowDeg, 6);
      const shoulderDeg = shoulderFlexionFromJoints(shoulder, elbow, joints.midHip, joints.midShoulder);
      expect(pose.shoulderFlexionDeg).toBeCloseTo(shoulderDeg, 6);
      const trunkDeg = angleBetweenDeg(subtract(joints.midShoulder, joints.midHip), [0, 1, 0]);
      expect(pose.trunkInclinationDeg).toBeCloseTo(trunkDeg, 6);
    }
  });

  it('moves without jumps from frame to frame', () => {
    let before = poseSkeletons(scenario, 0);
    for (let frame = 1; frame < scenario.frameCount; frame++) {
      const now = poseSkeletons(scenario, frame / scenario.outline.fps);
      now.forEach((skeleton, index) => {
        const earlier = before[index] ?? null;
        if (skeleton === null || earlier === null) return;
        for (const joint of [
          'leftElbow',
          'leftWrist',
          'rightWrist',
          'leftAnkle',
          'midHip',
          'nose',
        ] as const) {
          const speed = distance(skeleton.joints[joint], earlier.joints[joint]) * scenario.outline.fps;
          // The fastest there is: a foot that swings two steps while the hip, at 1.15 m/s, makes one, peaks at
          // 1.875 * 2 * 1.15 = 4.3 m/s. A jump of a hand's breadth would be 3 m/s more.
          expect(speed, `${joint} in frame ${frame.toString()}`).toBeLessThan(4.4);
        }
      });
      before = now;
    }
  });
});

const named = (name: string) => {
  const found = SCENARIOS.find(([candidate]) => candidate === name);
  if (found === undefined) throw new Error(`There is no clip named ${name}.`);
  return found[1];
};

describe('the hand on the bar', () => {
  it.each(['body-curl-strict', 'body-curl-row'])('stays at one place throughout %s', (name) => {
    const scenario = named(name);
    const bar = scenario.people[0].performance.equipment.bar;
    if (bar === undefined) throw new Error('The clip needs a bar.');
    for (const timeS of moments(scenario.durationS)) {
      const joints = posePhantom(scenario, timeS)?.joints;
      for (const side of SIDES) {
        const grip = joints?.[`${side}Grip`] ?? [NaN, NaN, NaN];
        expect(grip[0]).toBeCloseTo(bar.centre[0], 9);
        expect(grip[1]).toBeCloseTo(bar.centre[1], 9);
      }
    }
  });

  it('stays at one place while the hold lasts, also while the angle drifts', () => {
    const scenario = named('hold-drift');
    const bar = scenario.people[0].performance.equipment.bar;
    if (bar === undefined) throw new Error('The clip needs a bar.');
    for (let timeS = 3.5; timeS < 22.5; timeS += 0.1) {
      const grip = posePhantom(scenario, timeS)?.joints.rightGrip ?? [NaN, NaN, NaN];
      expect(grip[0]).toBeCloseTo(bar.centre[0], 9);
      expect(grip[1]).toBeCloseTo(bar.centre[1], 9);
    }
  });
});

describe('curl and row', () => {
  const range = (name: string) => {
    const scenario = named(name);
    const flexions = [...moments(scenario.durationS)].map(
      (t) => posePhantom(scenario, t)?.shoulderFlexionDeg ?? NaN,
    );
    return { lowDeg: Math.min(...flexions), highDeg: Math.max(...flexions) };
  };

  it('differ at the shoulder: still within 6 deg in the curl, from in front to behind the trunk in the row', () => {
    const curl = range('body-curl-strict');
    const row = range('body-curl-row');
    expect(curl.highDeg - curl.lowDeg).toBeLessThan(6);
    expect(row.highDeg).toBeGreaterThan(20);
    expect(row.lowDeg).toBeLessThan(-15);
  });
});

describe('a body', () => {
  const body = createBody({ statureM: 1.8, bodyMassIndex: 22, looks: PLAIN_LOOKS }, createRandom(7));

  it('has segments within 3 % of the published fractions of stature', () => {
    // Drillis and Contini 1966, as in Winter 2009, figure 4.1: upper arm .186, forearm .146, thigh .245, shank .246.
    const published = { upperArm: 0.186, forearm: 0.146, thigh: 0.245, shank: 0.246, trunk: 0.288 } as const;
    for (const segment of ['upperArm', 'forearm', 'thigh', 'shank', 'trunk'] as const) {
      expect(SEGMENT_FRACTIONS[segment]).toBe(published[segment]);
      expect(Math.abs(body.lengths[segment] / (published[segment] * 1.8) - 1)).toBeLessThanOrEqual(0.03);
    }
  });

  it('is never stretched: an ankle out of reach is refused', () => {
    const arm = {
      shoulderFlexionDeg: 0,
      shoulderAbductionDeg: 0,
      humeralRotationDeg: 0,
      elbowFlexionDeg: 0,
      forearmRotationDeg: 0,
    };
    const posture: Posture = {
      midHip: [0, 1.3, 0],
      trunkLeanDeg: 0,
      arms: { left: arm, right: arm },
      ankles: { left: [0, 0.07, -0.1], right: [0, 0.07, 0.1] },
      footPitchDeg: { left: 0, right: 0 },
      headTurnDeg: 0,
      headNodDeg: 0,
      breath: 0,
    };
    expect(() => buildSkeleton(body, posture)).toThrow(/out of the leg's reach/);
  });

  it('turns the palm up in supination and the thumb up in neutral, with the elbow at a right angle', () => {
    const handAt = (forearmRotationDeg: number, side: 'left' | 'right') => {
      const arm = {
        shoulderFlexionDeg: 0,
        shoulderAbductionDeg: 0,
        humeralRotationDeg: 0,
        elbowFlexionDeg: 90,
        forearmRotationDeg,
      };
      const skeleton = buildSkeleton(body, {
        midHip: [0, 0.94, 0],
        trunkLeanDeg: 0,
        arms: { left: arm, right: arm },
        ankles: { left: [0, 0.08, -0.1], right: [0, 0.08, 0.1] },
        footPitchDeg: { left: 0, right: 0 },
        headTurnDeg: 0,
        headNodDeg: 0,
        breath: 0,
      });
      return skeleton.frames.hand[side];
    };
    for (const side of SIDES) {
      expect(handAt(0, side).z[1]).toBeCloseTo(1, 9);
      expect(handAt(90, side).x[1]).toBeCloseTo(1, 9);
      expect(handAt(-90, side).x[1]).toBeCloseTo(-1, 9);
    }
  });
});
