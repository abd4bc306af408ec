import { createBody, type Body, type BodyOutline, type Side } from './body.ts';
import { createCamera, type Camera, type CameraPlacement } from './camera.ts';
import type { Performance } from './performance.ts';
import { createRandom, type SeededRandom } from './seeded-random.ts';
import { buildSkeleton, type ArmAngles, type Joints, type Skeleton } from './skeleton.ts';
import { angleBetweenDeg, dot, subtract, toDegrees, type Vec3 } from './vector.ts';

export type Exercise = 'hold' | 'body-curl' | 'band-curl' | 'free-curl';

/** Colours and light of a room; colours as 0xrrggbb. */
export interface Room {
  readonly wall: number;
  readonly floor: 'boards' | 'carpet' | 'tiles';
  readonly floorColour: number;
  readonly backWallM: number;
  /** Turn of the back wall against the figure's side plane. */
  readonly wallTurnDeg: number;
  readonly furniture: 'door' | 'shelf' | 'window' | 'plain';
  readonly mirror: { readonly centreX: number; readonly widthM: number } | null;
  /** Where the main light comes from, and its share against the light from all around. */
  readonly lightFrom: readonly [number, number, number];
  readonly lightWarmth: number;
  readonly lightStrength: number;
  readonly noise: number;
}

interface PersonOutline {
  readonly body: BodyOutline;
  readonly perform: (body: Body, random: SeededRandom) => Performance;
}

/** A clip as it is written down: everything else follows from the seed. */
export interface ClipOutline {
  readonly name: string;
  readonly seed: number;
  readonly shows: string;
  readonly exercise: Exercise;
  readonly side: Side;
  readonly fps: number;
  readonly camera: CameraPlacement;
  readonly room: Room;
  /** The treated person first. */
  readonly people: readonly [PersonOutline, ...PersonOutline[]];
}

interface ScenarioPerson {
  readonly body: Body;
  readonly performance: Performance;
}

/** A clip with its bodies built: what is needed to ask for any moment of it. */
export interface Scenario {
  readonly outline: ClipOutline;
  readonly camera: Camera;
  readonly people: readonly [ScenarioPerson, ...ScenarioPerson[]];
  readonly durationS: number;
  readonly frameCount: number;
}

export function createScenario(outline: ClipOutline): Scenario {
  const random = createRandom(outline.seed);
  const build = (person: PersonOutline, index: number): ScenarioPerson => {
    const own = random.fork(`person ${index.toString()}`);
    const body = createBody(person.body, own.fork('body'));
    return { body, performance: person.perform(body, own.fork('performance')) };
  };
  const [treated, ...others] = outline.people;
  const people = [build(treated, 0), ...others.map((other, index) => build(other, index + 1))] as const;
  const frameCount = Math.round(Math.max(...people.map((p) => p.performance.durationS)) * outline.fps);
  const durationS = frameCount / outline.fps;
  return { outline, camera: createCamera(outline.camera), people, durationS, frameCount };
}

/** The treated person's figures at one moment: angles in degrees, joints in metres. */
export interface PhantomPose {
  readonly joints: Joints;
  readonly skeleton: Skeleton;
  /** Arm of the treated side. */
  readonly arm: ArmAngles;
  readonly elbowFlexionDeg: number;
  readonly shoulderFlexionDeg: number;
  /** Unsigned, 0 to 180, hip-to-shoulder line from the vertical. */
  readonly trunkInclinationDeg: number;
}

/** Pose of the treated person at a time in seconds; null while that person is not in the room. */
export function posePhantom(scenario: Scenario, timeS: number): PhantomPose | null {
  const skeleton = poseSkeletons(scenario, timeS)[0] ?? null;
  if (skeleton === null) return null;
  const { side } = scenario.outline;
  const { joints, posture } = skeleton;
  const arm = posture.arms[side];
  return {
    joints,
    skeleton,
    arm,
    elbowFlexionDeg: arm.elbowFlexionDeg,
    shoulderFlexionDeg: shoulderFlexionDeg(joints, side),
    trunkInclinationDeg: angleBetweenDeg(subtract(joints.midShoulder, joints.midHip), [0, 1, 0]),
  };
}

/** As measured: against the line from mid-hip to mid-shoulder, which a moving shoulder blade tilts a little. */
function shoulderFlexionDeg(joints: Joints, side: Side): number {
  const trunk = subtract(joints.midShoulder, joints.midHip);
  const forward: Vec3 = [trunk[1], -trunk[0], 0];
  const upperArm = subtract(joints[`${side}Elbow`], joints[`${side}Shoulder`]);
  return toDegrees(Math.atan2(dot(upperArm, forward), -dot(upperArm, trunk)));
}

/** Skeletons of all people of a scenario at a time in seconds, in the scenario's order; null for who is away. */
export function poseSkeletons(scenario: Scenario, timeS: number): (Skeleton | null)[] {
  return scenario.people.map(({ body, performance }) => {
    const posture = performance.postureAt(timeS);
    return posture === null ? null : buildSkeleton(body, posture);
  });
}
