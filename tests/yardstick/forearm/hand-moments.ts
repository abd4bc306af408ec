import { createScenario, posePhantom, type PhantomPose } from '../../../demo-clips/generator/scenario.ts';
import {
  add,
  combine,
  dot,
  scale,
  subtract,
  toFrame,
  toRadians,
  type Vec3,
} from '../../../demo-clips/generator/vector.ts';
import { projectJoints, type Camera } from '../../../demo-clips/generator/camera.ts';
import type { YardstickCase } from '../../../demo-clips/generator/yardstick/cases.ts';
import { sidedIndex, type Side } from '../../../src/core/pose/landmark.ts';
import type { Pose } from '../../../src/core/pose/pose-frame.ts';
import { foundFrames, TRACE_MODELS, type TraceModel, type YardstickTrace } from '../trace.ts';
import { isHandInView } from '../truth.ts';

/** A direction or distance across the picture, x to the right and y up; pixels, or without a unit for directions. */
export interface Across {
  readonly x: number;
  readonly y: number;
}

/** What three points of a hand and the wrist show: lines in the picture, pixels. */
export interface HandLines {
  /** From the little finger's knuckle to the index finger's. */
  readonly knuckles: Across;
  /** From the middle of those two to the thumb. */
  readonly thumb: Across;
  /** From the wrist to the middle of the two knuckles. */
  readonly length: Across;
}

/** One drawn picture of a hand that is in view. */
export interface HandMoment {
  readonly setId: string;
  readonly yawBandDeg: number;
  readonly rotationDeg: number;
  /** Hip to shoulder in the picture, pixels: the unit of what is learned. */
  readonly trunkPx: number;
  /** The forearm's direction, and that in which it folds, as the picture shows them: at most 1 long. */
  readonly forearm: Across;
  readonly folding: Across;
  /** The lines of the true points. */
  readonly truth: HandLines;
  /** The lines of what each network found. */
  readonly found: Readonly<Partial<Record<TraceModel, HandLines>>>;
  /** The lines of the true hand, had it been turned so far, degrees; without perspective, in any unit. */
  readonly turned: (rotationDeg: number) => HandLines;
}

/** The drawn pictures of a case in which the treated hand is in view, with its true lines and those of each network. */
export function handMoments(drawnCase: YardstickCase, trace: YardstickTrace): HandMoment[] {
  const scenario = createScenario(drawnCase.outline);
  const { camera } = scenario;
  const { side } = drawnCase.outline;
  const series = TRACE_MODELS.map((model) => [model, foundFrames(trace, model)] as const);
  return drawnCase.drawnTimesSeconds.flatMap((timeSeconds, i) => {
    const pose = posePhantom(scenario, timeSeconds);
    if (pose === null || !isHandInView(scenario, pose)) return [];
    const px = projectJoints(camera, pose.joints);
    const at = (name: 'Wrist' | 'Index' | 'Pinky' | 'Thumb'): Across => ({
      x: px[`${side}${name}`].xPx,
      y: -px[`${side}${name}`].yPx,
    });
    const found: Partial<Record<TraceModel, HandLines>> = {};
    for (const [model, frames] of series) {
      const lines = foundLines(frames[i]?.pose ?? null, side);
      if (lines !== null) found[model] = lines;
    }
    const axes = forearmAxes(pose, side);
    return [
      {
        setId: drawnCase.id,
        yawBandDeg: drawnCase.yawBandDeg,
        rotationDeg: pose.arm.forearmRotationDeg,
        trunkPx: Math.hypot(px.midShoulder.xPx - px.midHip.xPx, px.midShoulder.yPx - px.midHip.yPx),
        forearm: inPicture(camera, axes.forearm),
        folding: inPicture(camera, axes.folding),
        truth: linesOf(at('Wrist'), at('Index'), at('Pinky'), at('Thumb')),
        found,
        turned: turnedHand(pose, side, camera),
      },
    ];
  });
}

function linesOf(wrist: Across, index: Across, pinky: Across, thumb: Across): HandLines {
  const from = (a: Across, b: Across): Across => ({ x: b.x - a.x, y: b.y - a.y });
  const middle = { x: (index.x + pinky.x) / 2, y: (index.y + pinky.y) / 2 };
  return { knuckles: from(pinky, index), thumb: from(middle, thumb), length: from(wrist, middle) };
}

function foundLines(pose: Pose | null, side: Side): HandLines | null {
  const at = (landmark: 'wrist' | 'index' | 'pinky' | 'thumb'): Across | null => {
    const point = pose?.image[sidedIndex(side, landmark)];
    return point === undefined ? null : { x: point.x, y: -point.y };
  };
  const [wrist, index, pinky, thumb] = [at('wrist'), at('index'), at('pinky'), at('thumb')];
  return wrist && index && pinky && thumb ? linesOf(wrist, index, pinky, thumb) : null;
}

const inPicture = ({ right, up }: Camera, direction: Vec3): Across => ({
  x: dot(direction, right),
  y: dot(direction, up),
});

/** Along the forearm to the hand, the way it folds, and towards the body's middle; from the hand as it is turned. */
function forearmAxes({ skeleton, arm }: PhantomPose, side: Side) {
  const { x: palm, y: backwards, z: thumb } = skeleton.frames.hand[side];
  const turn = toRadians(arm.forearmRotationDeg);
  return {
    forearm: scale(backwards, -1),
    folding: combine([Math.sin(turn), palm], [Math.cos(turn), thumb]),
    medial: combine([Math.cos(turn), palm], [-Math.sin(turn), thumb]),
  };
}

function turnedHand(pose: PhantomPose, side: Side, camera: Camera): (rotationDeg: number) => HandLines {
  const { joints, frames } = pose.skeleton;
  const { forearm, folding, medial } = forearmAxes(pose, side);
  const inHand = (name: 'Index' | 'Pinky' | 'Thumb'): Vec3 =>
    toFrame(frames.hand[side], joints[`${side}${name}`]);
  const [index, pinky, thumb] = [inHand('Index'), inHand('Pinky'), inHand('Thumb')];
  const middle = scale(add(index, pinky), 0.5);
  return (rotationDeg) => {
    const turn = toRadians(rotationDeg);
    const palm = combine([Math.cos(turn), medial], [Math.sin(turn), folding]);
    const thumbwards = combine([Math.cos(turn), folding], [-Math.sin(turn), medial]);
    const show = ([x, y, z]: Vec3): Across =>
      inPicture(camera, combine([x, palm], [-y, forearm], [z, thumbwards]));
    return {
      knuckles: show(subtract(index, pinky)),
      thumb: show(subtract(thumb, middle)),
      length: show(middle),
    };
  };
}
