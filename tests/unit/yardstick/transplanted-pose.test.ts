import { describe, expect, it } from 'vitest';
import { createScenario } from '../../../demo-clips/generator/scenario.ts';
import { LANDMARK_NAMES, landmarkIndex, sidedIndex } from '../../../src/core/pose/landmark.ts';
import { networkErrors, transplantedPose } from '../../yardstick/repeatability/transplanted-pose.ts';
import { withBodyAnew, withCameraAnew } from '../../yardstick/repeatability/scenes.ts';
import { foundFrames, traceOf } from '../../yardstick/trace.ts';
import { jointOf, truthOf } from '../../yardstick/truth.ts';
import { fullRateSet } from '../../yardstick/yardstick-set.ts';
import { caseOf, imaginedPoses, momentsOf, type Offset } from './imagined-case.ts';

const CLIP = 'body-curl-strict';
const drawnCase = caseOf(CLIP, momentsOf(CLIP, 30));
const scenario = createScenario(drawnCase.outline);
/** An elbow that lies towards the front by a tenth of the trunk on the treated side, and low on the other. */
const ofTreated: Offset = (name, { trunkPx }) => ({
  x: name === `${drawnCase.outline.side}_elbow` ? 0.1 * trunkPx : 0,
  y: name.endsWith('elbow') && !name.startsWith(drawnCase.outline.side) ? 0.05 * trunkPx : 0,
});

function errorsOf(offset: Offset) {
  const trace = traceOf(drawnCase, imaginedPoses(drawnCase, offset));
  const errors = networkErrors(scenario, foundFrames(trace, 'full'));
  if (errors === null) throw new Error('Nothing was found.');
  return { trace, errors };
}

describe('network errors put on another scene', () => {
  it('give, on the scene they are from, what the yardstick gives', () => {
    const { trace, errors } = errorsOf((name, { truth }) => ({
      x: name.endsWith('elbow') ? truth.elbowFlexionDeg / 10 : 2,
      y: -3,
    }));
    const set = fullRateSet(drawnCase, trace, { model: 'full', rateHz: 5, seed: 1, noise: 0 });
    const truthAt = truthOf(scenario);
    const poseAt = transplantedPose(errors, scenario);
    for (const { timeSeconds, pose } of set.frames) {
      const own = poseAt(truthAt(timeSeconds));
      LANDMARK_NAMES.forEach((name, i) => {
        expect(Math.abs((own?.image[i]?.x ?? NaN) - (pose?.image[i]?.x ?? NaN)), name).toBeLessThan(0.4);
        expect(Math.abs((own?.image[i]?.y ?? NaN) - (pose?.image[i]?.y ?? NaN)), name).toBeLessThan(0.4);
      });
    }
  });

  it('lie on the same side of the body, mirrored where the other side is treated', () => {
    const { errors } = errorsOf(ofTreated);
    const { side, camera } = drawnCase.outline;
    const other = side === 'right' ? 'left' : 'right';
    const mirrored = createScenario({
      ...drawnCase.outline,
      side: other,
      camera: { ...camera, facingSide: other },
    });
    const moment = truthOf(mirrored)(2);
    const pose = transplantedPose(errors, mirrored)(moment);
    const off = (of: 'left' | 'right') => {
      const point = pose?.image[sidedIndex(of, 'elbow')];
      const joint = moment.joints[jointOf(`${of}_elbow`)];
      return [(point?.x ?? NaN) - joint.xPx, (point?.y ?? NaN) - joint.yPx].map((px) => px / moment.trunkPx);
    };
    // What lay to the picture's right lies to its left.
    expect(off(other)[0]).toBeCloseTo(-0.1, 2);
    expect(off(other)[1]).toBeCloseTo(0, 2);
    expect(off(side)[0]).toBeCloseTo(0, 2);
    expect(off(side)[1]).toBeCloseTo(0.05, 2);
  });

  it('turn the metric guess with the person: a true guess stays true before another camera', () => {
    const truthAt = truthOf(scenario);
    const guessAt = (own: typeof scenario, timeSeconds: number) => {
      const { joints } = truthOf(own)(timeSeconds);
      const { camera, people } = own;
      const place = (name: keyof typeof joints) => {
        const { xPx, yPx, depthM } = joints[name];
        const perPx = depthM / camera.focalPx;
        return { x: (xPx - camera.widthPx / 2) * perPx, y: (yPx - camera.heightPx / 2) * perPx, z: depthM };
      };
      const hip = place('midHip');
      const scale = 1.7 / people[0].body.statureM;
      return LANDMARK_NAMES.map((name) => {
        const { x, y, z } = place(jointOf(name));
        return { x: (x - hip.x) * scale, y: (y - hip.y) * scale, z: (z - hip.z) * scale };
      });
    };
    const { full } = imaginedPoses(drawnCase, () => ({ x: 0, y: 0 }));
    const frames = full.map((pose, i) => {
      const timeSeconds = drawnCase.drawnTimesSeconds[i] ?? 0;
      const world = guessAt(scenario, timeSeconds);
      return {
        timeSeconds,
        widthPx: 640,
        heightPx: 480,
        pose: pose && { ...pose, world },
        people: 1,
        brightness: null,
      };
    });
    const errors = networkErrors(scenario, frames);
    const turned = createScenario(withCameraAnew(drawnCase.outline, 45, 3));
    expect(Math.abs(turned.outline.camera.yawDeg - scenario.outline.camera.yawDeg)).toBeGreaterThan(5);
    const pose = errors && transplantedPose(errors, turned)(truthOf(turned)(2));
    const wrist = landmarkIndex('right_wrist');
    const guessed = guessAt(turned, 2)[wrist];
    expect(pose?.world[wrist]?.x).toBeCloseTo(guessed?.x ?? NaN, 6);
    expect(pose?.world[wrist]?.z).toBeCloseTo(guessed?.z ?? NaN, 6);
    expect(truthAt(2).truth.elbowFlexionDeg).toBe(truthOf(turned)(2).truth.elbowFlexionDeg);
  });
});

describe('another body', () => {
  it('bends the elbow by the same script, sway and tremor, with other lengths', () => {
    const outline = caseOf('free-curl-mirror', []).outline;
    const own = createScenario(outline);
    const other = createScenario(withBodyAnew(outline, 1));
    expect(other.people[0].body.statureM).not.toBe(own.people[0].body.statureM);
    for (const seconds of [1, 3, 5])
      expect(truthOf(other)(seconds).truth.elbowFlexionDeg).toBeCloseTo(
        truthOf(own)(seconds).truth.elbowFlexionDeg,
        9,
      );
  });
});
