import * as THREE from 'three';
import { sideSign, type Side } from '../body.ts';
import type { Room } from '../scenario.ts';
import type { SeededRandom } from '../seeded-random.ts';
import { toRadians, type Vec3 } from '../vector.ts';

/** A drawn room, and where its mirror throws things (null without one). */
export interface RoomModel {
  readonly group: THREE.Group;
  readonly reflection: THREE.Matrix4 | null;
}

const WALL_HEIGHT_M = 3.2;
const MIRROR = { lowM: 0.12, highM: 1.95 } as const;

/** Floor, back wall with furniture or mirror, a wall behind the camera that the mirror shows, and the light. */
export function createRoom(room: Room, facingSide: Side, random: SeededRandom): RoomModel {
  const group = new THREE.Group();
  const s = sideSign(facingSide);
  const floor = plane(
    16,
    16,
    new THREE.MeshLambertMaterial({ map: floorTexture(room, random.fork('floor')) }),
  );
  floor.rotation.x = -Math.PI / 2;
  group.add(floor);
  const turn = toRadians(room.wallTurnDeg);
  // The wall's own directions: x to the picture's right, z towards the camera.
  const wall = new THREE.Group();
  wall.position.set(0, 0, -s * room.backWallM);
  const normal = new THREE.Vector3(Math.sin(turn) * s, 0, Math.cos(turn) * s);
  wall.rotation.y = Math.atan2(normal.x, normal.z);
  wall.add(wallFace(room), box([9, 0.09, 0.02], [0, 0.045, 0.01], shade(room.wall, 0.75)));
  furnish(wall, room, random.fork('furniture'));
  group.add(wall);
  addLight(group, room, s);
  if (room.mirror === null) return { group, reflection: null };
  const behind = plane(18, 9, new THREE.MeshLambertMaterial({ color: shade(room.wall, 0.9) }));
  behind.position.set(0, 2, -6.5);
  wall.add(behind);
  return { group, reflection: reflectionAcross(wall.position, normal) };
}

function reflectionAcross(point: THREE.Vector3, n: THREE.Vector3): THREE.Matrix4 {
  const d = 2 * point.dot(n);
  const { x, y, z } = n;
  return new THREE.Matrix4().set(
    1 - 2 * x * x,
    -2 * x * y,
    -2 * x * z,
    d * x,
    -2 * y * x,
    1 - 2 * y * y,
    -2 * y * z,
    d * y,
    -2 * z * x,
    -2 * z * y,
    1 - 2 * z * z,
    d * z,
    0,
    0,
    0,
    1,
  );
}

/** The wall, with a hole where the mirror hangs: the mirrored figure stands behind it. */
function wallFace({ wall, mirror }: Room): THREE.Mesh {
  const shape = new THREE.Shape([
    new THREE.Vector2(-7, 0),
    new THREE.Vector2(7, 0),
    new THREE.Vector2(7, WALL_HEIGHT_M),
    new THREE.Vector2(-7, WALL_HEIGHT_M),
  ]);
  if (mirror !== null) {
    const [left, right] = [mirror.centreX - mirror.widthM / 2, mirror.centreX + mirror.widthM / 2];
    const corners: [number, number][] = [
      [left, MIRROR.lowM],
      [left, MIRROR.highM],
      [right, MIRROR.highM],
      [right, MIRROR.lowM],
    ];
    shape.holes.push(new THREE.Path(corners.map(([x, y]) => new THREE.Vector2(x, y))));
  }
  const face = new THREE.Mesh(new THREE.ShapeGeometry(shape), new THREE.MeshLambertMaterial({ color: wall }));
  face.receiveShadow = true;
  return face;
}

function furnish(wall: THREE.Group, room: Room, random: SeededRandom): void {
  const x = random.between(-1.3, -0.75) * random.pick([1, -1]);
  if (room.mirror !== null) {
    const { centreX, widthM } = room.mirror;
    const middle = (MIRROR.lowM + MIRROR.highM) / 2;
    for (const side of [-1, 1])
      wall.add(
        box(
          [0.04, MIRROR.highM - MIRROR.lowM, 0.04],
          [centreX + (side * widthM) / 2, middle, 0.02],
          0x4a4038,
        ),
      );
    for (const y of [MIRROR.lowM, MIRROR.highM])
      wall.add(box([widthM, 0.04, 0.04], [centreX, y, 0.02], 0x4a4038));
  }
  if (room.furniture === 'door') {
    wall.add(box([1.02, 2.1, 0.02], [x, 1.05, 0.01], shade(room.wall, 1.12)));
    wall.add(
      box([0.88, 2.02, 0.03], [x, 1.01, 0.02], 0x8a6a4c),
      box([0.12, 0.02, 0.05], [x + 0.34, 1.02, 0.05], 0xb8b4a8),
    );
  }
  if (room.furniture === 'window') {
    wall.add(box([1.25, 1.15, 0.05], [x, 1.62, 0.02], 0xe8e6e0));
    const pane = new THREE.MeshBasicMaterial({ color: 0xc9dbe6 });
    for (const side of [-0.29, 0.29]) wall.add(box([0.53, 1.02, 0.06], [x + side, 1.62, 0.025], pane));
  }
  if (room.furniture === 'shelf') {
    for (const y of [1.25, 1.65]) {
      wall.add(box([1.1, 0.03, 0.24], [x, y, 0.12], 0x7b5b40));
      for (let along = -0.48; along < 0.4;) {
        const [width, height] = [random.between(0.04, 0.11), random.between(0.14, 0.28)];
        const colour = random.pick([0x6f4e3a, 0x41566b, 0x8a8f7c, 0xb59d6a, 0x5d3f45]);
        wall.add(box([width, height, 0.17], [x + along + width / 2, y + 0.015 + height / 2, 0.11], colour));
        along += width + random.between(0.003, 0.05);
      }
    }
  }
}

function addLight(group: THREE.Group, room: Room, s: number): void {
  const warm = new THREE.Color(0xffffff).lerp(new THREE.Color(0xffd9a8), room.lightWarmth);
  const sun = new THREE.DirectionalLight(warm, 2.1 * room.lightStrength);
  sun.position.set(...room.lightFrom);
  sun.castShadow = true;
  sun.shadow.mapSize.set(1024, 1024);
  sun.shadow.normalBias = 0.02;
  sun.shadow.bias = -0.0005;
  Object.assign(sun.shadow.camera, { left: -2.2, right: 2.2, top: 2.2, bottom: -2.2, near: 0.3, far: 9 });
  const fill = new THREE.DirectionalLight(0xdfe8ff, 0.55 * room.lightStrength);
  fill.position.set(-room.lightFrom[0], 1.4, 2.5 * s);
  group.add(sun, fill, new THREE.HemisphereLight(0xf4f6ff, 0x9a9082, 2.1));
}

/** Boards, tiles or carpet drawn on a canvas, so that feet and shadows have something to stand on. */
function floorTexture(room: Room, random: SeededRandom): THREE.CanvasTexture {
  const size = 512;
  const canvas = document.createElement('canvas');
  canvas.width = canvas.height = size;
  const pen = canvas.getContext('2d');
  if (pen === null) throw new Error('The browser gave no canvas to draw the floor on.');
  pen.fillStyle = css(room.floorColour);
  pen.fillRect(0, 0, size, size);
  const patch = (x: number, y: number, w: number, h: number, spread: number) => {
    pen.fillStyle = css(shade(room.floorColour, random.between(1 - spread, 1 + spread)));
    pen.fillRect(x, y, w, h);
  };
  if (room.floor === 'boards')
    for (let row = 0; row < 16; row++)
      for (let x = -random.between(0, 200); x < size; x += 200) patch(x, row * 32, 198, 30.5, 0.12);
  if (room.floor === 'tiles')
    for (let row = 0; row < 8; row++) for (let x = 0; x < size; x += 64) patch(x, row * 64, 62, 62, 0.05);
  if (room.floor === 'carpet')
    for (let dot = 0; dot < 6000; dot++) patch(random.between(0, size), random.between(0, size), 3, 3, 0.12);
  const texture = new THREE.CanvasTexture(canvas);
  texture.colorSpace = THREE.SRGBColorSpace;
  texture.wrapS = texture.wrapT = THREE.RepeatWrapping;
  texture.repeat.set(7, 7);
  texture.anisotropy = 4;
  return texture;
}

const css = (colour: number): string => `#${colour.toString(16).padStart(6, '0')}`;

/** The colour made lighter or darker, kept within what can be shown. */
function shade(colour: number, factor: number): number {
  const channel = (shift: number) => Math.min(255, Math.round(((colour >> shift) & 255) * factor));
  return (channel(16) << 16) | (channel(8) << 8) | channel(0);
}

function plane(width: number, height: number, material: THREE.Material): THREE.Mesh {
  const mesh = new THREE.Mesh(new THREE.PlaneGeometry(width, height), material);
  mesh.receiveShadow = true;
  return mesh;
}

function box(size: Vec3, centre: Vec3, paint: number | THREE.Material): THREE.Mesh {
  const material = typeof paint === 'number' ? new THREE.MeshLambertMaterial({ color: paint }) : paint;
  const mesh = new THREE.Mesh(new THREE.BoxGeometry(...size), material);
  mesh.position.set(...centre);
  mesh.receiveShadow = true;
  return mesh;
}
