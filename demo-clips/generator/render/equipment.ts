import * as THREE from 'three';
import { barRod, barSupports, type Rod } from '../equipment-shapes.ts';
import type { Equipment } from '../performance.ts';
import type { Skeleton } from '../skeleton.ts';
import { fromFrame, type Vec3 } from '../vector.ts';

/** Drawn equipment of one person. */
export interface EquipmentModel {
  readonly group: THREE.Group;
  pose(skeleton: Skeleton | null): void;
}

const STEEL = new THREE.MeshLambertMaterial({ color: 0x8d9299 });
const PAINTED = new THREE.MeshLambertMaterial({ color: 0x3a3d42 });
const RUBBER = new THREE.MeshLambertMaterial({ color: 0x5b564f });

export function createEquipment(equipment: Equipment, statureM: number): EquipmentModel {
  const group = new THREE.Group();
  const updates: ((skeleton: Skeleton) => void)[] = [];
  const { bar, dumbbell, band } = equipment;
  if (bar !== undefined) {
    const { posts, hooks } = barSupports(bar);
    group.add(rodMesh(barRod(bar), STEEL), ...[...posts, ...hooks].map((rod) => rodMesh(rod, PAINTED)));
    for (const { from } of posts) group.add(box([0.5, 0.04, 0.07], [from[0] - 0.05, 0.02, from[2]], PAINTED));
  }
  if (dumbbell !== undefined) {
    const weight = dumbbellModel();
    group.add(weight);
    updates.push((skeleton) => {
      const hand = skeleton.frames.hand[dumbbell];
      weight.position.set(...skeleton.joints[`${dumbbell}Grip`]);
      weight.quaternion.setFromUnitVectors(new THREE.Vector3(0, 1, 0), new THREE.Vector3(...hand.z));
    });
  }
  if (band !== undefined) {
    const [anchor, hand] = [band.anchor, band.hand];
    const strip = rodMesh({ from: [0, 0, 0], to: [0, 1, 0], radiusM: 0.007 }, RUBBER);
    const handle = rodMesh({ from: [0, -0.06, 0], to: [0, 0.06, 0], radiusM: 0.014 }, PAINTED);
    group.add(strip, handle, box([0.12, 0.2, 0.12], [anchor[0] + 0.03, 0.1, anchor[2]], PAINTED));
    updates.push((skeleton) => {
      const frame = skeleton.frames.hand[hand];
      handle.position.set(...skeleton.joints[`${hand}Grip`]);
      handle.quaternion.setFromUnitVectors(new THREE.Vector3(0, 1, 0), new THREE.Vector3(...frame.z));
      // The band leaves the closed hand at the knuckles.
      stretch(strip, fromFrame(frame, [0.012 * statureM, -0.076 * statureM, 0]), anchor);
    });
  }
  return {
    group,
    pose(skeleton) {
      group.visible = skeleton !== null || bar !== undefined;
      if (skeleton !== null) for (const update of updates) update(skeleton);
    },
  };
}

function shadowed(mesh: THREE.Mesh): THREE.Mesh {
  mesh.castShadow = true;
  mesh.receiveShadow = true;
  return mesh;
}

function rodMesh({ from, to, radiusM }: Rod, material: THREE.Material): THREE.Mesh {
  const mesh = shadowed(new THREE.Mesh(new THREE.CylinderGeometry(radiusM, radiusM, 1, 14), material));
  stretch(mesh, from, to);
  return mesh;
}

function stretch(mesh: THREE.Mesh, from: Vec3, to: Vec3): void {
  const [a, b] = [new THREE.Vector3(...from), new THREE.Vector3(...to)];
  mesh.position.copy(a).add(b).multiplyScalar(0.5);
  mesh.scale.set(1, a.distanceTo(b), 1);
  mesh.quaternion.setFromUnitVectors(new THREE.Vector3(0, 1, 0), b.sub(a).normalize());
}

function box(size: Vec3, centre: Vec3, material: THREE.Material): THREE.Mesh {
  const mesh = shadowed(new THREE.Mesh(new THREE.BoxGeometry(...size), material));
  mesh.position.set(...centre);
  return mesh;
}

function dumbbellModel(): THREE.Group {
  const model = new THREE.Group();
  model.add(rodMesh({ from: [0, -0.09, 0], to: [0, 0.09, 0], radiusM: 0.0135 }, STEEL));
  for (const side of [-1, 1])
    model.add(rodMesh({ from: [0, side * 0.062, 0], to: [0, side * 0.105, 0], radiusM: 0.046 }, PAINTED));
  return model;
}
