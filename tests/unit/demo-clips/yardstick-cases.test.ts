import { describe, expect, it } from 'vitest';
import { createCamera } from '../../../demo-clips/generator/camera.ts';
import { CLIPS } from '../../../demo-clips/generator/clips.ts';
import { createScenario, posePhantom } from '../../../demo-clips/generator/scenario.ts';
import { buildSkeleton } from '../../../demo-clips/generator/skeleton.ts';
import { distance } from '../../../demo-clips/generator/vector.ts';
import { yardstickCases } from '../../../demo-clips/generator/yardstick/cases.ts';
import {
  FILL,
  filledShare,
  placesToShow,
  showsAll,
} from '../../../demo-clips/generator/yardstick/framing.ts';

const DEVELOPING = yardstickCases('developing');
const PROOF = yardstickCases('proof');
const BOTH = [...DEVELOPING, ...PROOF];
/** One of each cell: enough for what takes a while. */
const SOME = BOTH.filter(({ id }) => id.endsWith('-03'));

const seeds = (cases: typeof BOTH): number[] => cases.map(({ outline }) => outline.seed);

describe('the two sets of cases', () => {
  it('share no seed with each other or with the demo clips, and lie apart', () => {
    expect(Math.max(...seeds([...DEVELOPING]))).toBeLessThan(Math.min(...seeds([...PROOF])));
    const all = [...seeds(BOTH), ...CLIPS.map(({ seed }) => seed)];
    expect(new Set(all).size).toBe(all.length);
  });

  it('have ids of their own that name batch, exercise and yaw band', () => {
    expect(new Set(BOTH.map(({ id }) => id)).size).toBe(BOTH.length);
    for (const { id, set, exercise, yawBandDeg } of BOTH)
      expect(id).toMatch(
        new RegExp(
          `^(${set === 'proof' ? 'proof' : 'developing|seen'})-${exercise}-${yawBandDeg.toString().padStart(2, '0')}-`,
        ),
      );
  });

  // Two seconds on a free machine; given time because the machine may be busy drawing.
  it('come out the same each time', { timeout: 60_000 }, () => {
    const again = yardstickCases('developing');
    expect(JSON.stringify(again)).toBe(JSON.stringify(DEVELOPING));
    const [first, second] = [DEVELOPING, again].map((cases) => {
      const { outline, drawnTimesSeconds } = cases[40] ?? cases[0] ?? {};
      if (outline === undefined) throw new Error('The set needs cases.');
      return posePhantom(createScenario(outline), drawnTimesSeconds?.[5] ?? NaN);
    });
    expect(first?.joints).toEqual(second?.joints);
  });

  it.each([
    ['developing', DEVELOPING.filter(({ id }) => id.startsWith('developing')), 5],
    ['seen', DEVELOPING.filter(({ id }) => id.startsWith('seen')), 8],
    ['proof', PROOF, 8],
  ] as const)(
    'have in %s as many cases in each cell, of both sides and both signs',
    (_set, cases, perCell) => {
      expect(cases).toHaveLength(15 * perCell);
      for (const band of [0, 15, 30, 45, 60])
        for (const exercises of [['free-curl', 'band-curl'], ['hold'], ['body-curl']]) {
          const cell = cases.filter((one) => one.yawBandDeg === band && exercises.includes(one.exercise));
          expect(cell).toHaveLength(perCell);
          const right = cell.filter(({ outline }) => outline.side === 'right').length;
          expect(Math.abs(2 * right - perCell)).toBeLessThanOrEqual(1);
          const off = cell.map(({ outline }) => Math.abs(outline.camera.yawDeg) - band);
          for (const deg of off) expect(Math.abs(deg)).toBeLessThanOrEqual(6);
          if (band > 0) {
            const front = cell.filter(({ outline }) => outline.camera.yawDeg > 0).length;
            expect(Math.abs(2 * front - perCell)).toBeLessThanOrEqual(1);
          }
          for (const exercise of exercises) expect(cell.some((one) => one.exercise === exercise)).toBe(true);
        }
    },
  );
});

describe('the camera of a case', () => {
  it('stands where cameras stand', () => {
    for (const { outline } of BOTH) {
      const { camera } = outline;
      expect(camera.heightM).toBeGreaterThanOrEqual(0.6);
      expect(camera.heightM).toBeLessThanOrEqual(1.7);
      expect(camera.distanceM).toBeGreaterThanOrEqual(2);
      expect(camera.distanceM).toBeLessThanOrEqual(4.2);
      expect(Math.abs(camera.rollDeg)).toBeLessThanOrEqual(3);
      expect(camera.verticalFieldOfViewDeg).toBeGreaterThanOrEqual(35);
      expect(camera.verticalFieldOfViewDeg).toBeLessThanOrEqual(70);
      expect([
        [640, 480],
        [480, 640],
      ]).toContainEqual([camera.widthPx, camera.heightPx]);
      expect(camera.facingSide).toBe(outline.side);
    }
  });

  it('shows the whole person at all times and is well filled', () => {
    for (const { outline } of SOME) {
      const places = placesToShow(createScenario(outline));
      const camera = createCamera(outline.camera);
      expect(showsAll(camera, places)).toBe(true);
      expect(filledShare(camera, places)).toBeGreaterThanOrEqual(FILL.low - 1e-6);
      expect(filledShare(camera, places)).toBeLessThanOrEqual(FILL.high + 1e-6);
    }
  });
});

describe('the pictures of a case', () => {
  it('are 14 at different frames of the clip', () => {
    for (const { drawnTimesSeconds: times, outline } of BOTH) {
      expect(times).toHaveLength(14);
      times.forEach((timeS, index) => {
        expect(timeS).toBeGreaterThan(times[index - 1] ?? 0);
        expect(timeS * outline.fps).toBeCloseTo(Math.round(timeS * outline.fps), 9);
      });
    }
    for (const { drawnTimesSeconds, outline } of SOME)
      expect(drawnTimesSeconds.at(-1)).toBeLessThan(createScenario(outline).durationS);
  });

  it('spread the elbow angle evenly over the range, going up and coming down', () => {
    const ups: number[] = [];
    for (const { outline, drawnTimesSeconds, exercise } of SOME) {
      const scenario = createScenario(outline);
      const flexion = (timeS: number): number => posePhantom(scenario, timeS)?.elbowFlexionDeg ?? NaN;
      const angles = drawnTimesSeconds.map(flexion).sort((a, b) => a - b);
      const rangeDeg = (angles.at(-1) ?? NaN) - (angles[0] ?? NaN);
      expect(rangeDeg).toBeGreaterThan(exercise === 'body-curl' ? 55 : 75);
      // A stratum is a 14th of the range of a set, a 9th of that of the bends before a hold.
      const largestGap = Math.max(...angles.slice(1).map((deg, index) => deg - (angles[index] ?? NaN)));
      expect(largestGap / rangeDeg).toBeLessThan(exercise === 'hold' ? 0.25 : 0.19);
      ups.push(...drawnTimesSeconds.map((timeS) => Number(flexion(timeS + 0.1) > flexion(timeS - 0.1))));
    }
    const share = ups.reduce((sum, up) => sum + up, 0) / ups.length;
    expect(share).toBeGreaterThan(0.35);
    expect(share).toBeLessThan(0.65);
  });
});

describe('the bodies of the cases', () => {
  it('keep their segments, and their hands at one place of the bar while they hold it', () => {
    for (const { outline, exercise, drawnTimesSeconds } of SOME) {
      const scenario = createScenario(outline);
      const [{ body, performance }] = scenario.people;
      const [width, bar] = [body.lengths.shoulderHalfWidth, performance.equipment.bar];
      const gripsOutM: number[] = [];
      for (const timeS of drawnTimesSeconds) {
        const posture = performance.postureAt(timeS);
        if (posture === null) throw new Error('The person must be there.');
        const { joints } = buildSkeleton(body, posture);
        expect(distance(joints.leftElbow, joints.leftWrist)).toBeCloseTo(body.lengths.forearm, 9);
        expect(distance(joints.rightShoulder, joints.rightElbow)).toBeCloseTo(body.lengths.upperArm, 9);
        const { forwardM, upM } = posture.shoulderShiftM?.[outline.side] ?? { forwardM: NaN, upM: NaN };
        expect(Math.hypot(forwardM, upM)).toBeLessThanOrEqual(0.02);
        // The last pictures of a hold are of the time on the bar.
        const isOnBar =
          exercise === 'body-curl' || (exercise === 'hold' && timeS >= (drawnTimesSeconds[9] ?? 0));
        if (!isOnBar || bar === undefined) continue;
        for (const grip of [joints.leftGrip, joints.rightGrip]) {
          expect(grip[0]).toBeCloseTo(bar.centre[0], 9);
          expect(grip[1]).toBeCloseTo(bar.centre[1], 9);
          gripsOutM.push(Math.abs(grip[2]) - width);
        }
      }
      for (const out of gripsOutM) expect(out).toBeCloseTo(gripsOutM[0] ?? NaN, 9);
    }
  });

  it('mix curl and row in the body-moving curls from hardly any work of the shoulder to nearly all', () => {
    for (const cases of [DEVELOPING, PROOF]) {
      const repetitions = cases
        .filter(({ exercise }) => exercise === 'body-curl')
        .flatMap(({ outline }) => createScenario(outline).people[0].performance.repetitions);
      const shares = repetitions.map(({ shoulderWorkShare }) => shoulderWorkShare ?? NaN);
      expect(Math.min(...shares)).toBeLessThan(0.05);
      expect(Math.max(...shares)).toBeGreaterThan(0.85);
      const dominant = repetitions.filter(({ shoulderDominant }) => shoulderDominant).length;
      expect(dominant / repetitions.length).toBeGreaterThan(0.1);
      expect(dominant / repetitions.length).toBeLessThan(0.5);
    }
  });
});
