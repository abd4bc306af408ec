import { describe, expect, test } from 'vitest';
import { bodyCurlLoad } from '../../../src/core/loads/body-curl.ts';
import { bodyAtSetUp } from '../../../src/core/loads/hanging-body.ts';
import type { BodyCurlSetUp } from '../../../src/core/loads/equipment.ts';
import { handShareSentence } from '../../../src/core/feedback/hand-share-words.ts';
import { isKnown } from '../../../src/core/loads/load-figure.ts';
import {
  forceAtEachHand,
  leastAndMost,
  measuredHandShares,
} from '../../../src/core/loads/measured-body-curl.ts';
import type { KinematicFrame, PlanePoint } from '../../../src/core/kinematics/kinematic-frame.ts';
import { estimate } from '../../../src/core/kinematics/measured.ts';
import { traceSeries } from '../../helpers/kinematic-traces.ts';

const SET_UP: BodyCurlSetUp = { kind: 'body-curl-set-up', barHeightM: 1.3, feetForwardM: 0.7, hands: 2 };
const PERSON = { statureCm: 175, bodyMassKg: 75 };
const UPPER_ARM_M = 0.186 * 1.75;

/** All pictures lie in it. */
const WHOLE = [{ startSeconds: 0, endSeconds: 1 }];

/** A picture of the set-up at an angle, in upper-arm lengths, moved away from the bar as a camera sees it. */
function pictureAt(flexionDeg: number): KinematicFrame {
  const [template] = traceSeries({ seconds: 0.2, posture: () => ({ elbowDeg: 30 }) }).frames;
  const body = bodyAtSetUp(SET_UP, PERSON, flexionDeg);
  if (template === undefined || !isKnown(body)) throw new Error('no picture');
  const at = ({ forward, up }: PlanePoint): PlanePoint => ({
    forward: forward / UPPER_ARM_M + 3,
    up: up / UPPER_ARM_M - 2,
  });
  const shoulder = at(body.shoulder);
  return {
    ...template,
    elbowFlexionDeg: estimate(flexionDeg, 3),
    body: {
      ...template.body,
      ankle: at(body.feet),
      hand: at(body.hand),
      shoulder,
      midShoulder: shoulder,
      elbow: at(body.elbow),
    },
  };
}

describe('the share of body weight over a measured repetition', () => {
  test('is that of the same set-up measured with a tape, wherever the camera puts it', () => {
    const shares = measuredHandShares([0, 20, 40, 60, 80, 100].map(pictureAt), WHOLE);
    expect(shares.map(({ flexionDeg }) => flexionDeg)).toEqual([0, 20, 40, 60, 80, 100]);
    for (const { flexionDeg, handShare } of shares) {
      const load = bodyCurlLoad(SET_UP, PERSON, flexionDeg);
      if (!isKnown(load)) throw new Error(load.notKnown);
      expect(handShare.value).toBeCloseTo(load.handShare.value, 9);
      // Newton's second law: 75 kg at 9.80665 m/s2, half of it at each of two hands.
      const force = forceAtEachHand(handShare, { bodyMassKg: 75, hands: 2 });
      expect(force.value).toBeCloseTo(handShare.value * 75 * 9.80665 * 0.5, 6);
      expect(force.value).toBeCloseTo(load.handForceN?.value ?? NaN, 6);
      for (const force of Object.values(load.forces)) {
        if (force === null) continue;
        expect(force.share).toBeGreaterThanOrEqual(handShare.least - 1e-9);
        expect(force.share).toBeLessThanOrEqual(handShare.most + 1e-9);
      }
    }
  });

  test('leaves out pictures in which the feet or the elbow’s angle were not had', () => {
    const seen = pictureAt(40);
    const noFeet = { ...pictureAt(80), body: { ...seen.body, ankle: null } };
    const noAngle: KinematicFrame = { ...pictureAt(60), elbowFlexionDeg: { notMeasured: 'gap' } };
    expect(measuredHandShares([seen, noFeet, noAngle], WHOLE).map(({ flexionDeg }) => flexionDeg)).toEqual([
      40,
    ]);
  });

  test('counts only pictures within the repetitions', () => {
    const frames = [20, 60, 100].map((deg, index) => ({ ...pictureAt(deg), timeSeconds: index }));
    const spans = [{ startSeconds: 0.5, endSeconds: 1.5 }];
    expect(measuredHandShares(frames, spans).map(({ flexionDeg }) => flexionDeg)).toEqual([60]);
    expect(measuredHandShares(frames, [])).toEqual([]);
  });

  test('is least and most where the body hangs steepest and flattest', () => {
    const shares = measuredHandShares([0, 40, 80].map(pictureAt), WHOLE);
    const values = shares.map(({ handShare }) => handShare.value);
    const ends = leastAndMost(shares);
    expect(ends?.least.handShare.value).toBe(Math.min(...values));
    expect(ends?.most.handShare.value).toBe(Math.max(...values));
    expect(leastAndMost([])).toBeNull();
    expect(handShareSentence(shares)).toMatch(
      /^Over the measured repetitions the hands hold between \d+ % \(\d+ to \d+\) of body weight about \d+ deg and \d+ % /,
    );
    expect(handShareSentence([])).toBeNull();
  });
});
