import { describe, expect, it } from 'vitest';
import { exchangeLabels } from '../../../src/core/pose/exchange-labels.ts';
import { FRESH_GATE, stepGate, type GatedPose } from '../../../src/core/pose/gate.ts';
import { sidedIndex, type Side } from '../../../src/core/pose/landmark.ts';
import type { PoseFrame } from '../../../src/core/pose/pose-frame.ts';
import { sidedPose } from '../../../src/core/pose/sided-pose.ts';
import {
  curl,
  NETWORK_NOISE,
  NO_NOISE,
  STANDING,
  SyntheticNetwork,
  transformed,
  withPose,
} from '../../helpers/synthetic-body.ts';

const network = (options: ConstructorParameters<typeof SyntheticNetwork>[0] = {}) =>
  new SyntheticNetwork({ noise: NETWORK_NOISE, ...options });

function gateAll(frames: readonly PoseFrame[], side: Side = 'left'): GatedPose[] {
  let state = FRESH_GATE;
  return frames.map((frame) => {
    const next = stepGate(state, frame, side);
    state = next.state;
    return next.gated;
  });
}

const reasons = (frames: readonly PoseFrame[], side?: Side) =>
  gateAll(frames, side).map((gated) => gated.reason);

describe('the gate on believable landmarks', () => {
  it.each([5, 10, 30, 60])('lets a quick curl through at %d pictures a second', (rateHz) => {
    const film = network().film(curl({ periodSeconds: 1.2, toDeg: 140 }), 6, rateHz);
    expect(new Set(reasons(film))).toEqual(new Set([null]));
  });

  it('lets a body through that pulls itself up half a metre in a second', () => {
    const film = network().film(
      (t) => {
        const share = (1 - Math.cos(Math.PI * t)) / 2;
        return {
          ...STANDING,
          trunkLeanDeg: -60 + 20 * share,
          pelvisUpM: 0.5 + 0.4 * share,
          shoulderFlexionDeg: 60,
          elbowFlexionDeg: 100 * share,
        };
      },
      6,
      30,
    );
    expect(new Set(reasons(film))).toEqual(new Set([null]));
  });

  it('asks for no new search', () => {
    const film = network().film(curl(), 6, 30);
    expect(gateAll(film).some((gated) => gated.resetTracker || gated.restart || gated.exchanged)).toBe(false);
  });
});

describe('the gate on what cannot be measured', () => {
  const still = (options: ConstructorParameters<typeof SyntheticNetwork>[0] = {}, side: Side = 'left') =>
    reasons(
      network(options).film(() => STANDING, 2, 30),
      side,
    );

  it('says nobody', () => {
    const film = network()
      .film(() => STANDING, 1, 30)
      .map((frame) => withPose(frame, () => null));
    expect(new Set(reasons(film))).toEqual(new Set(['nobody']));
  });

  it('says that the arm is not seen, but leaves the trunk', () => {
    const film = network()
      .film(() => STANDING, 1, 30)
      .map((frame) =>
        withPose(frame, (pose) => ({
          ...pose,
          image: pose.image.map((point, i) =>
            i === sidedIndex('left', 'wrist') ? { ...point, visibility: 0.2 } : point,
          ),
        })),
      );
    for (const gated of gateAll(film)) {
      expect(gated.reason).toBe('arm-not-seen');
      expect(gated.armOnly).toBe(true);
    }
  });

  it('says that the arm leaves the picture, although the network guesses on', () => {
    const film = network()
      .film(() => STANDING, 1, 30)
      .map((frame) => transformed(frame, (point) => ({ ...point, y: point.y + 230 })));
    expect(new Set(reasons(film))).toEqual(new Set(['outside-picture']));
  });

  it('says that the person is too far away', () => {
    expect(still({ camera: { distanceM: 6 } }).slice(-1)).toEqual([null]);
    expect(still({ camera: { distanceM: 9 } }).slice(-1)).toEqual(['too-small']);
  });

  it('says that the other side is near the camera', () => {
    const far = still({ camera: { yawDeg: 180 } });
    expect(new Set(far)).toEqual(new Set(['wrong-side']));
    expect(still({ side: 'right' }, 'left').slice(-1)).toEqual(['wrong-side']);
  });
});

describe('the gate on left and right', () => {
  const front = () => network({ camera: { yawDeg: 60 } }).film(curl(), 6, 30);

  it('puts labels right that are exchanged for a while in a view where both sides show', () => {
    const film = front();
    const broken = film.map((frame, i) =>
      i >= 60 && i < 75 ? withPose(frame, (pose) => exchangeLabels(pose)) : frame,
    );
    gateAll(broken).forEach((gated, i) => {
      const truth = film[i]?.pose && sidedPose(film[i].pose, 'left', 640);
      expect(gated.reason).toBeNull();
      expect(gated.exchanged).toBe(i >= 60 && i < 75);
      expect(gated.pose?.treated.elbow).toEqual(truth?.treated.elbow);
    });
  });

  it('puts a single pair of hands right', () => {
    const film = front();
    const hands = ['wrist', 'pinky', 'index', 'thumb'] as const;
    const broken = film.map((frame, i) =>
      i >= 60 && i < 66 ? withPose(frame, (pose) => exchangeLabels(pose, hands)) : frame,
    );
    gateAll(broken).forEach((gated, i) => {
      const truth = film[i]?.pose && sidedPose(film[i].pose, 'left', 640);
      if (gated.reason === null) expect(gated.pose?.treated.wrist).toEqual(truth?.treated.wrist);
    });
  });

  it('never gives the other arm for the treated one when labels are exchanged from the start of a side view', () => {
    const film = network().film(curl({ otherElbowFlexionDeg: 60 }), 5, 30);
    const broken = film.map((frame) => withPose(frame, (pose) => exchangeLabels(pose)));
    const gated = gateAll(broken);
    gated.forEach(({ pose, reason }, i) => {
      const truth = film[i]?.pose && sidedPose(film[i].pose, 'left', 640);
      if (reason === null) expect(pose?.treated.wrist).toEqual(truth?.treated.wrist);
    });
    expect(gated.slice(60).filter(({ reason }) => reason === null).length).toBeGreaterThan(60);
  });

  it('asks for a new search when the labels stay exchanged', () => {
    const broken = front().map((frame, i) =>
      i >= 30 ? withPose(frame, (pose) => exchangeLabels(pose)) : frame,
    );
    expect(gateAll(broken).some((gated) => gated.resetTracker)).toBe(true);
  });
});

describe('the gate on jumps', () => {
  const side = () => network().film(curl(), 6, 30);
  const move = (frame: PoseFrame, dx: number): PoseFrame =>
    transformed(frame, (point) => ({ ...point, x: point.x + dx }));

  it('marks a slip of one picture and goes on at once', () => {
    const broken = side().map((frame, i) => (i === 90 ? move(frame, 120) : frame));
    const gated = gateAll(broken);
    expect(gated.map(({ reason }) => reason).flatMap((reason, i) => (reason ? [i] : []))).toEqual([90]);
    expect(gated[90]?.reason).toBe('tracking-jump');
    expect(gated.some(({ resetTracker }) => resetTracker && !gated[90])).toBe(false);
  });

  it('believes nothing after a jump to another place until it was steady for half a second, and starts anew', () => {
    const gated = gateAll(side().map((frame, i) => (i >= 90 ? move(frame, 150) : frame)));
    const bad = gated.flatMap(({ reason }, i) => (reason ? [i] : []));
    expect(bad[0]).toBe(90);
    expect(bad.length).toBeGreaterThanOrEqual(14);
    expect(bad.length).toBeLessThanOrEqual(17);
    expect(gated[90]?.resetTracker).toBe(true);
    expect(gated.filter(({ restart }) => restart)).toHaveLength(1);
  });

  it('says two people when the jump comes while two are about, and waits longer', () => {
    const gated = gateAll(
      side().map((frame, i) => ({ ...(i >= 90 ? move(frame, 150) : frame), people: i > 60 ? 2 : 1 })),
    );
    const bad = gated.flatMap(({ reason }, i) => (reason ? [i] : []));
    expect(bad[0]).toBe(90);
    expect(gated[90]?.reason).toBe('two-people');
    expect(bad.length).toBeGreaterThanOrEqual(29);
  });

  it('goes on measuring beside a bystander', () => {
    expect(new Set(reasons(side().map((frame) => ({ ...frame, people: 2 }))))).toEqual(new Set([null]));
  });

  it('notices stale tracking: a shoulder a third of a trunk away from where it belongs', () => {
    const broken = side().map((frame, i) =>
      i < 60
        ? frame
        : withPose(frame, (pose) => ({
            ...pose,
            image: pose.image.map((point, k) =>
              k === sidedIndex('left', 'shoulder') || k === sidedIndex('right', 'shoulder')
                ? { ...point, y: point.y - 60 }
                : point,
            ),
          })),
    );
    const gated = gateAll(broken);
    expect(gated.slice(60, 120).every(({ reason }) => reason === 'tracking-jump')).toBe(true);
    expect(gated.some(({ resetTracker }) => resetTracker)).toBe(true);
  });

  it('believes a person who came nearer after a while', () => {
    const near = network({ noise: NO_NOISE, camera: { distanceM: 2.4 } }).film(curl(), 6, 30);
    const far = network({ noise: NO_NOISE, camera: { distanceM: 4 } }).film(curl(), 6, 30);
    const film = far.map((frame, i) => (i < 60 ? frame : (near[i] ?? frame)));
    expect(reasons(film)[179]).toBeNull();
  });
});
