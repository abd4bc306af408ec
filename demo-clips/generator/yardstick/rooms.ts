import { sideSign, type Side } from '../body.ts';
import type { Room } from '../scenario.ts';
import type { SeededRandom } from '../seeded-random.ts';
import { toRadians } from '../vector.ts';
import { varyColour } from './colours.ts';

const WALLS = [
  0xf2efe9, 0xd9d2c0, 0xcfc8ba, 0xa9b3a2, 0xb9c4c6, 0xc4cbd6, 0xd6c3b4, 0xbfae9c, 0x8fa3b5, 0x7f8a7a,
  0x9c6f5f, 0x5c6470, 0x3f4248,
] as const;
const FLOORS = [
  0x9a7350, 0xb08d62, 0x7d6a58, 0x5a4030, 0x8b8d8f, 0xc2beb6, 0x6d7480, 0x84766a, 0x4b4f57,
] as const;
const WITH_MIRROR = 0.15;
/** The wall is turned at most so far towards the camera: the mirror and the furniture hang on it. */
const LARGEST_WALL_TURN_DEG = 45;

/**
 * A room as people have them, with a camera on the given side turned by the given yaw: wall behind the person more or
 * less across the view, light from any direction above.
 */
export function drawRoom(random: SeededRandom, facingSide: Side, cameraYawDeg: number): Room {
  const s = sideSign(facingSide);
  const followed = s * cameraYawDeg * random.between(0, 1) + random.between(-12, 12);
  const wallTurnDeg = Math.min(LARGEST_WALL_TURN_DEG, Math.max(-LARGEST_WALL_TURN_DEG, followed));
  const hasMirror = random.between(0, 1) < WITH_MIRROR;
  const room: Omit<Room, 'mirror' | 'furniture'> = {
    wall: varyColour(random.pick(WALLS), 0.06, random),
    floor: random.pick(['boards', 'carpet', 'tiles']),
    floorColour: varyColour(random.pick(FLOORS), 0.1, random),
    // Square to the wall at least 1.25 m: bar and leaning body stay clear of it.
    backWallM: random.between(1.25, 2.8) / Math.cos(toRadians(wallTurnDeg)),
    wallTurnDeg,
    lightFrom: [random.between(-2.5, 2.5), random.between(2.2, 3.6), s * random.between(-0.8, 2.8)],
    lightWarmth: random.between(0, 1),
    lightStrength: random.between(0.45, 1.2),
    noise: random.between(0.004, 0.03),
  };
  if (!hasMirror)
    return { ...room, mirror: null, furniture: random.pick(['door', 'shelf', 'window', 'plain']) };
  const centreX = random.between(0.35, 1) * random.pick([1, -1]);
  return { ...room, mirror: { centreX, widthM: random.between(0.5, 0.95) }, furniture: 'plain' };
}
