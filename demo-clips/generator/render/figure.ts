import * as THREE from 'three';
import { SIDES, type Body, type Side } from '../body.ts';
import type { Skeleton } from '../skeleton.ts';
import type { Frame } from '../vector.ts';
import { armShape, legShape, legwearShape, neckShape, shirtShape, type PartShape } from './limb-fields.ts';
import { fistShape, hairShape, headShape, shoeShape, type RigidShape } from './rigid-fields.ts';
import { meshField, type MeshData } from './surface-nets.ts';

/** A drawn person. Limbs and clothes are meshed anew for each posture, so nothing stretches at the joints. */
export interface Figure {
  readonly group: THREE.Group;
  pose(skeleton: Skeleton | null): void;
}

export function createFigure(body: Body): Figure {
  const group = new THREE.Group();
  const { looks, statureM } = body;
  const skin = new THREE.MeshLambertMaterial({ color: looks.skin });
  const cloth = (colour: number) => new THREE.MeshLambertMaterial({ color: colour });
  const [shirt, legwear, shoes, hair] = [looks.shirt, looks.shorts, looks.shoes, looks.hair].map(cloth);
  const add = (mesh: THREE.Mesh): THREE.Mesh => {
    mesh.matrixAutoUpdate = false;
    mesh.castShadow = true;
    mesh.receiveShadow = true;
    mesh.frustumCulled = false;
    group.add(mesh);
    return mesh;
  };
  const soft = (material: THREE.Material | undefined, shape: (skeleton: Skeleton) => PartShape) => {
    const mesh = add(new THREE.Mesh(new THREE.BufferGeometry(), material));
    return (skeleton: Skeleton): void => {
      const { frame, field, bounds, cellM } = shape(skeleton);
      mesh.geometry.dispose();
      mesh.geometry = toGeometry(meshField(field, bounds, cellM));
      place(mesh, frame);
    };
  };
  const rigid = (material: THREE.Material | undefined, shape: RigidShape, frame: (s: Skeleton) => Frame) => {
    const mesh = add(new THREE.Mesh(toGeometry(meshField(shape.field, shape.bounds, shape.cellM)), material));
    return (skeleton: Skeleton): void => {
      place(mesh, frame(skeleton));
    };
  };
  const hairCap = hairShape(body);
  const face = createFace(body);
  face.children.forEach((child) => (child.castShadow = false));
  group.add(face);
  const updates: ((skeleton: Skeleton) => void)[] = [
    soft(shirt, (s) => shirtShape(body, s)),
    soft(legwear, (s) => legwearShape(body, s)),
    soft(skin, (s) => neckShape(body, s)),
    ...SIDES.flatMap((side: Side) => [
      soft(skin, (s) => armShape(body, s, side)),
      soft(skin, (s) => legShape(body, s, side)),
      rigid(skin, fistShape(statureM), (s) => s.frames.hand[side]),
      rigid(shoes, shoeShape(body), (s) => s.frames.foot[side]),
    ]),
    rigid(skin, headShape(statureM), (s) => s.frames.head),
    ...(hairCap === null ? [] : [rigid(hair, hairCap, (s) => s.frames.head)]),
    (s) => {
      place(face, s.frames.head);
    },
  ];
  return {
    group,
    pose(skeleton) {
      group.visible = skeleton !== null;
      if (skeleton !== null) for (const update of updates) update(skeleton);
    },
  };
}

/** Eyes, brows and mouth: small solids set into the head. */
function createFace(body: Body): THREE.Group {
  const h = body.statureM;
  const face = new THREE.Group();
  face.matrixAutoUpdate = false;
  const solid = (
    geometry: THREE.BufferGeometry,
    colour: number,
    x: number,
    y: number,
    z: number,
  ): THREE.Mesh => {
    const mesh = new THREE.Mesh(geometry, new THREE.MeshLambertMaterial({ color: colour }));
    mesh.position.set(x * h, y * h, z * h);
    face.add(mesh);
    return mesh;
  };
  for (const z of [-0.0185, 0.0185]) {
    solid(new THREE.SphereGeometry(0.0065 * h, 12, 10), 0xe6e0d8, 0.0415, 0.0035, z);
    solid(new THREE.SphereGeometry(0.004 * h, 10, 8), 0x2e2219, 0.0453, 0.0035, z * 1.02);
    const brow = solid(
      new THREE.CapsuleGeometry(0.0022 * h, 0.016 * h, 3, 8),
      body.looks.hair,
      0.0455,
      0.017,
      z,
    );
    brow.rotation.x = Math.PI / 2 + Math.sign(z) * 0.12;
  }
  const lips = new THREE.Color(body.looks.skin).multiply(new THREE.Color(0xd98a80)).getHex();
  const mouth = solid(new THREE.CapsuleGeometry(0.003 * h, 0.016 * h, 3, 8), lips, 0.0478, -0.0335, 0);
  mouth.rotation.x = Math.PI / 2;
  return face;
}

function toGeometry({ positions, normals, indices }: MeshData): THREE.BufferGeometry {
  const geometry = new THREE.BufferGeometry();
  geometry.setAttribute('position', new THREE.BufferAttribute(positions, 3));
  geometry.setAttribute('normal', new THREE.BufferAttribute(normals, 3));
  geometry.setIndex(new THREE.BufferAttribute(indices, 1));
  return geometry;
}

/** Puts an object into a frame. Left hands come out as mirror images because their frame is one. */
function place(object: THREE.Object3D, { origin, x, y, z }: Frame): void {
  object.matrix.makeBasis(new THREE.Vector3(...x), new THREE.Vector3(...y), new THREE.Vector3(...z));
  object.matrix.setPosition(...origin);
  object.matrixWorldNeedsUpdate = true;
}
