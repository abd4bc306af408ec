import { describe, expect, it } from 'vitest';
import { flexionByFit } from '../../../src/core/kinematics/arm-plane-angle.ts';
import { expectArmPlane, fitArmPlane, type ArmPlaneFit } from '../../../src/core/kinematics/arm-plane-fit.ts';
import { chooseArms } from '../../../src/core/kinematics/arm-plane-frames.ts';
import { ARM_PLANE } from '../../../src/core/kinematics/arm-plane-limits.ts';
import { priorOf } from '../../../src/core/kinematics/arm-plane-prior.ts';
import {
  bodyNormal,
  dot,
  flexionInPlaneDeg,
  lengthOf,
  obliquenessDeg,
  planeNormal,
  type ArmRays,
  type Vector,
} from '../../../src/core/kinematics/arm-plane.ts';
import { LANDMARK_ERRORS } from '../../../src/core/kinematics/landmark-errors.ts';
import { isMeasured } from '../../../src/core/kinematics/measured.ts';
import { toRadians } from '../../../src/core/math/angle.ts';
import { seededNormal } from '../../helpers/seeded-random.ts';

const SHORT = 0.078;
const ERRORS = LANDMARK_ERRORS['blazepose-full'];

interface ArmInSpace {
  readonly yawDeg: number;
  readonly tiltDeg: number;
  readonly flexionDeg: number;
  /** Direction of the upper arm in its plane: 0 down, positive forward. */
  readonly raisedDeg?: number;
  readonly elbowShort?: number;
  readonly forearmM?: number;
}

/** Rays to an arm of 0.3 m and 0.235 m three metres away, in a plane with the given normal. */
function raysOf({
  yawDeg,
  tiltDeg,
  flexionDeg,
  raisedDeg = 0,
  elbowShort = SHORT,
  forearmM = 0.235,
}: ArmInSpace): ArmRays {
  const normal = planeNormal({ yawDeg, tiltDeg });
  const yaw = toRadians(yawDeg);
  const ahead: Vector = [Math.cos(yaw), 0, -Math.sin(yaw)];
  // Down in the plane: ahead x normal points along the plane's own vertical.
  const vertical: Vector = [
    ahead[1] * normal[2] - ahead[2] * normal[1],
    ahead[2] * normal[0] - ahead[0] * normal[2],
    ahead[0] * normal[1] - ahead[1] * normal[0],
  ];
  const down = vertical.map((v) => (vertical[1] > 0 ? -v : v));
  const point = (from: readonly number[], lengthM: number, deg: number): number[] =>
    from.map(
      (at, i) =>
        at +
        lengthM * (Math.cos(toRadians(deg)) * (down[i] ?? 0) + Math.sin(toRadians(deg)) * (ahead[i] ?? 0)),
    );
  const shoulder = [0.1, 0.2, 3];
  const elbow = point(shoulder, 0.3, raisedDeg);
  const wrist = point(elbow, forearmM, raisedDeg + flexionDeg);
  const seen = elbow.map((at, i) => at + ((shoulder[i] ?? 0) - at) * elbowShort);
  const ray = ([x = 0, y = 0, z = 1]: readonly number[]): Vector => [x / z, y / z, 1];
  return { shoulder: ray(shoulder), elbow: ray(seen), wrist: ray(wrist) };
}

/** The rays with every point moved by chance, one standard deviation in upper-arm lengths of 0.1 of a ray. */
function scattered(rays: ArmRays, normal: () => number, sd: number): ArmRays {
  const moved = ([x, y, z]: Vector): Vector => [x + 0.1 * sd * normal(), y + 0.1 * sd * normal(), z];
  return { shoulder: moved(rays.shoulder), elbow: moved(rays.elbow), wrist: moved(rays.wrist) };
}

function curlOf(plane: Omit<ArmInSpace, 'flexionDeg'>): ArmRays[] {
  return Array.from({ length: 120 }, (_, i) =>
    raysOf({ ...plane, flexionDeg: 70 - 60 * Math.cos((2 * Math.PI * i) / 60), raisedDeg: i / 12 }),
  );
}

describe('the angle in a plane', () => {
  it.each([-50, -20, 0, 30, 50])('is the flexion when the plane is the true one, yaw %d', (yawDeg) => {
    for (const flexionDeg of [0, 5, 60, 90, 140]) {
      const rays = raysOf({ yawDeg, tiltDeg: 8, flexionDeg });
      expect(flexionInPlaneDeg(rays, { yawDeg, tiltDeg: 8, elbowShort: SHORT })).toBeCloseTo(flexionDeg, 4);
    }
  });

  it('misses the flexion in another plane and with an elbow left short', () => {
    const rays = raysOf({ yawDeg: 40, tiltDeg: 8, flexionDeg: 70 });
    const off = (plane: { yawDeg: number; tiltDeg: number; elbowShort: number }) =>
      Math.abs(flexionInPlaneDeg(rays, plane) - 70);
    expect(off({ yawDeg: 10, tiltDeg: 8, elbowShort: SHORT })).toBeGreaterThan(2);
    expect(off({ yawDeg: 40, tiltDeg: 8, elbowShort: 0 })).toBeGreaterThan(4);
  });

  it('tells how obliquely the plane is seen', () => {
    const rays = raysOf({ yawDeg: 35, tiltDeg: 0, flexionDeg: 60 });
    expect(obliquenessDeg(rays, { yawDeg: 35, tiltDeg: 0, elbowShort: SHORT })).toBeCloseTo(35, -1);
  });
});

describe('bodyNormal', () => {
  it('is the normal of an upright plane for a level camera', () => {
    const { yawDeg, tiltDeg } = bodyNormal(33, 0);
    expect(yawDeg).toBeCloseTo(33, 9);
    expect(tiltDeg).toBeCloseTo(0, 9);
  });

  it('sinks for a camera that looks down on a square body, not for one that looks down on a front', () => {
    expect(bodyNormal(0, 10).tiltDeg).toBeCloseTo(-10, 9);
    expect(bodyNormal(90, 10).tiltDeg).toBeCloseTo(0, 9);
  });

  it('gives unit normals on the side of the camera', () => {
    const normal = planeNormal(bodyNormal(30, -12));
    expect(lengthOf(normal)).toBeCloseTo(1, 12);
    expect(dot(normal, [0, 0, 1])).toBeLessThan(0);
  });
});

describe('priorOf', () => {
  const body = { yawDeg: 20, pitchDeg: 0 };

  it('tips the plane of a hanging arm by abduction and turns it by rotation', () => {
    const prior = priorOf(body, [raysOf({ yawDeg: 20, tiltDeg: 0, flexionDeg: 30 })]);
    expect(prior.tiltDeg).toBeCloseTo(ARM_PLANE.abduction.hangingDeg, 0);
    expect(prior.yawDeg).toBeCloseTo(20 - ARM_PLANE.inwardRotation.meanDeg, 0);
  });

  it('lets the two change places for an arm held forward', () => {
    const prior = priorOf(body, [raysOf({ yawDeg: 20, tiltDeg: 0, flexionDeg: 30, raisedDeg: 90 })]);
    expect(prior.tiltDeg).toBeCloseTo(ARM_PLANE.inwardRotation.meanDeg, 0);
    expect(prior.yawDeg).toBeCloseTo(20 + ARM_PLANE.abduction.forwardDeg, 0);
    expect(prior.tiltVariance).toBeGreaterThan(ARM_PLANE.inwardRotation.sdDeg ** 2);
  });

  it('is wider without a yaw and without a pitch', () => {
    const known = priorOf(body, []);
    const unknown = priorOf({ yawDeg: null, pitchDeg: null }, []);
    expect(unknown.yawVariance).toBeGreaterThan(known.yawVariance);
    expect(unknown.tiltVariance).toBeGreaterThan(known.tiltVariance);
  });

  it('is narrower where yaw and pitch are given, by no more than arms differ', () => {
    const given = priorOf({ ...body, isGiven: true }, []);
    expect(given.yawVariance).toBeLessThan(priorOf(body, []).yawVariance);
    expect(given.tiltVariance).toBeLessThan(priorOf(body, []).tiltVariance);
    expect(given.tiltVariance).toBeGreaterThan(ARM_PLANE.abduction.sdDeg ** 2);
  });
});

describe('fitArmPlane', () => {
  it.each([-40, 40])('finds the plane of a moving arm, yaw %d, from a body yaw that is wrong', (yawDeg) => {
    const arms = curlOf({ yawDeg, tiltDeg: 10 });
    const wrong = { yawDeg: yawDeg * 0.75, pitchDeg: 0 };
    const expectedErrorDeg = Math.abs(expectArmPlane(arms, wrong).plane.yawDeg - yawDeg);
    const fit = fitArmPlane(arms, wrong);
    expect(expectedErrorDeg).toBeGreaterThan(8);
    expect(Math.abs(fit.plane.yawDeg - yawDeg)).toBeLessThan(expectedErrorDeg / 2);
    expect(fit.yawSdDeg).toBeLessThan(0.8 * expectArmPlane(arms, wrong).yawSdDeg);
    expect(fit.fittedFrames).toBeGreaterThan(30);
  });

  it('is the expectation when there is no arm', () => {
    const body = { yawDeg: 25, pitchDeg: 4 };
    const fit = fitArmPlane([], body);
    const prior = priorOf(body, []);
    expect(fit.plane.yawDeg).toBeCloseTo(prior.yawDeg, 6);
    expect(fit.plane.elbowShort).toBeCloseTo(ARM_PLANE.elbowShort.mean, 6);
    expect(fit.yawSdDeg ** 2).toBeCloseTo(prior.yawVariance, 3);
    expect(fit.fittedFrames).toBe(0);
  });

  it('is not ruled by a tenth of wrong pictures', () => {
    const arms = curlOf({ yawDeg: 35, tiltDeg: 10 });
    const broken = arms.map((rays, i): ArmRays =>
      i % 10 === 0 ? { ...rays, wrist: [rays.wrist[0] + 0.15, rays.wrist[1] - 0.1, 1] } : rays,
    );
    const body = { yawDeg: 35, pitchDeg: 0 };
    const difference = fitArmPlane(broken, body).plane.yawDeg - fitArmPlane(arms, body).plane.yawDeg;
    expect(Math.abs(difference)).toBeLessThan(4);
  });

  it('gives the body the share of its correction that was the body’s doubt', () => {
    const arms = curlOf({ yawDeg: 45, tiltDeg: 10 });
    const fit = fitArmPlane(arms, { yawDeg: 30, pitchDeg: 0 });
    expect(fit.bodyYawDeg).toBeGreaterThan(30);
    expect(fit.bodyYawDeg).toBeLessThan(45);
  });
});

describe('chooseArms', () => {
  it('takes no more of a long hold than of a passing posture', () => {
    const hold = Array.from({ length: 600 }, () => raysOf({ yawDeg: 0, tiltDeg: 0, flexionDeg: 91 }));
    const { arms, independent } = chooseArms([...curlOf({ yawDeg: 0, tiltDeg: 0 }), ...hold]);
    expect(arms.length).toBeLessThanOrEqual(ARM_PLANE.frames.most);
    expect(arms.filter((rays) => hold.includes(rays)).length).toBeLessThan(10);
    expect(independent).toBeGreaterThan(chooseArms(hold).independent);
  });
});

describe('the angle in a plane of a straight arm', () => {
  it('is as often under zero as over it when the points scatter, so that it does not read as bent', () => {
    const plane = { yawDeg: 0, tiltDeg: 0, elbowShort: SHORT };
    const normal = seededNormal(4);
    const read = Array.from({ length: 400 }, () =>
      flexionInPlaneDeg(scattered(raysOf({ ...plane, flexionDeg: 0 }), normal, 0.03), plane),
    );
    expect(Math.abs(read.reduce((sum, deg) => sum + deg, 0) / read.length)).toBeLessThan(0.4);
    expect(read.filter((deg) => deg < 0).length).toBeGreaterThan(150);
  });
});

describe('flexionByFit', () => {
  const fitOf = (arms: readonly ArmRays[], yawDeg: number) => fitArmPlane(arms, { yawDeg, pitchDeg: 0 });
  const valueOf = (rays: ArmRays, fit: ArmPlaneFit, errors = ERRORS): number => {
    const measured = flexionByFit(rays, fit, 0, errors);
    return isMeasured(measured) ? measured.value : NaN;
  };
  const widthOf = (rays: ArmRays, fit: ArmPlaneFit, errors = ERRORS): number => {
    const measured = flexionByFit(rays, fit, 0, errors);
    return isMeasured(measured) ? measured.high - measured.value : NaN;
  };

  it.each([0, 35])(
    'is turned less by scatter than the plain angle, because lengths are kept, yaw %d',
    (yawDeg) => {
      const plane = { yawDeg, tiltDeg: 8 };
      const fit = fitOf(curlOf(plane), yawDeg);
      const normal = seededNormal(11);
      let [plain, kept] = [0, 0];
      for (let i = 0; i < 400; i++) {
        const rays = raysOf({ ...plane, flexionDeg: 60 + (i % 60) });
        const seen = scattered(rays, normal, 0.03);
        plain += (flexionInPlaneDeg(seen, fit.plane) - flexionInPlaneDeg(rays, fit.plane)) ** 2;
        kept += (valueOf(seen, fit) - valueOf(rays, fit)) ** 2;
      }
      expect(Math.sqrt(kept / plain)).toBeLessThan(0.92);
    },
  );

  it('takes off what the network that looked is known to add, and is as sure as it is known to be', () => {
    const [full, combined] = [LANDMARK_ERRORS['blazepose-full'], LANDMARK_ERRORS['blazepose-combined']];
    const fit = fitOf(curlOf({ yawDeg: 15, tiltDeg: 8 }), 15);
    const rays = raysOf({ yawDeg: 15, tiltDeg: 8, flexionDeg: 90 });
    expect(valueOf(rays, fit, full) - valueOf(rays, fit, combined)).toBeCloseTo(
      combined.foldSideDeg - full.foldSideDeg,
      9,
    );
    expect(widthOf(rays, fit, combined)).toBeLessThan(0.85 * widthOf(rays, fit, full));
  });

  it('is less sure of strange proportions, and refuses what is no arm', () => {
    const plane = { yawDeg: 10, tiltDeg: 8 };
    const halfWidthWith = (forearmM: number): number => {
      const arms = curlOf({ ...plane, forearmM });
      return widthOf(raysOf({ ...plane, forearmM, flexionDeg: 80 }), fitOf(arms, 10));
    };
    const usual = halfWidthWith(0.235);
    expect(halfWidthWith(0.235 * 1.12)).toBeGreaterThan(1.2 * usual);
    expect(halfWidthWith(0.235 * 1.6)).toBeNaN();
  });

  const halfWidth = (yawDeg: number, arms: readonly ArmRays[]): number => {
    const fit = fitArmPlane(arms, { yawDeg, pitchDeg: 0 });
    const measured = flexionByFit(raysOf({ yawDeg, tiltDeg: 8, flexionDeg: 60 }), fit, 0, ERRORS);
    return isMeasured(measured) ? measured.high - measured.value : NaN;
  };

  it('is less sure of an oblique view, and of an arm that never moved', () => {
    const square = halfWidth(0, curlOf({ yawDeg: 0, tiltDeg: 8 }));
    const oblique = halfWidth(40, curlOf({ yawDeg: 40, tiltDeg: 8 }));
    const still = halfWidth(40, [raysOf({ yawDeg: 40, tiltDeg: 8, flexionDeg: 60 })]);
    expect(oblique).toBeGreaterThan(1.2 * square);
    expect(still).toBeGreaterThan(oblique);
  });

  it('refuses an arm whose lengths do not keep their size, as when the network takes another for it', () => {
    const kept = curlOf({ yawDeg: 10, tiltDeg: 8 });
    // Every second picture shows an arm of four fifths of the size with a forearm of its own.
    const lost = kept.map((rays, i) => {
      if (i % 2 === 0) return rays;
      const nearer = (to: number, from: number): number => from + (to - from) * (i % 4 === 1 ? 0.7 : 1.4);
      const elbow: Vector = [
        nearer(rays.elbow[0], rays.shoulder[0]),
        nearer(rays.elbow[1], rays.shoulder[1]),
        1,
      ];
      return { ...rays, elbow };
    });
    const read = (arms: readonly ArmRays[]) => {
      const fit = fitArmPlane(arms, { yawDeg: 10, pitchDeg: 0 });
      return arms.map((rays) => flexionByFit(rays, fit, 0, ERRORS));
    };
    expect(read(kept).every(isMeasured)).toBe(true);
    expect(read(lost).every((measured) => 'notMeasured' in measured)).toBe(true);
  });

  it('refuses a plane that is seen nearly edge on', () => {
    const arms = curlOf({ yawDeg: 65, tiltDeg: 5 });
    const fit = fitArmPlane(arms, { yawDeg: 65, pitchDeg: 0 });
    expect(arms.map((rays) => flexionByFit(rays, fit, 0, ERRORS))).toContainEqual({
      notMeasured: 'too-oblique',
    });
  });
});
