import { describe, expect, it } from 'vitest';
import { SIDES } from '../../../demo-clips/generator/body.ts';
import { CLIPS } from '../../../demo-clips/generator/clips.ts';
import { ball, boundsAround } from '../../../demo-clips/generator/render/fields.ts';
import { armShape, legShape } from '../../../demo-clips/generator/render/limb-fields.ts';
import { meshField } from '../../../demo-clips/generator/render/surface-nets.ts';
import { createScenario, poseSkeletons } from '../../../demo-clips/generator/scenario.ts';
import {
  add,
  cross,
  distance,
  dot,
  fromFrame,
  scale,
  type Vec3,
} from '../../../demo-clips/generator/vector.ts';

const points = (values: Float32Array): Vec3[] =>
  Array.from({ length: values.length / 3 }, (_, i) => [
    values[3 * i] ?? NaN,
    values[3 * i + 1] ?? NaN,
    values[3 * i + 2] ?? NaN,
  ]);

describe('the mesh of a field', () => {
  const radius = 0.1;
  const mesh = meshField(ball([0.02, 1, 0], radius), boundsAround([[0.02, 1, 0]], 0.12), 0.01);
  const places = points(mesh.positions);

  it('lies on the surface, with normals that point outward', () => {
    expect(places.length).toBeGreaterThan(500);
    points(mesh.normals).forEach((normal, i) => {
      const place = places[i] ?? [NaN, NaN, NaN];
      expect(Math.abs(distance(place, [0.02, 1, 0]) - radius)).toBeLessThan(2e-4);
      expect(distance(add(place, scale(normal, -radius)), [0.02, 1, 0])).toBeLessThan(2e-3);
    });
  });

  it('is closed and faces outward: its signed volume is that of the ball', () => {
    let volume = 0;
    for (let i = 0; i < mesh.indices.length; i += 3) {
      const [a, b, c] = [0, 1, 2].map((n) => places[mesh.indices[i + n] ?? -1]);
      if (a === undefined || b === undefined || c === undefined)
        throw new Error('A triangle lacks a corner.');
      volume += dot(a, cross(b, c)) / 6;
    }
    const exact = (4 / 3) * Math.PI * radius ** 3;
    expect(Math.abs(volume / exact - 1)).toBeLessThan(0.01);
  });
});

describe('the drawn limbs', () => {
  it.each(CLIPS.map((outline) => [outline.name, outline] as const))(
    'surround the true joints in %s',
    (_name, outline) => {
      const scenario = createScenario(outline);
      for (const timeS of [0, 3, 5, 8]) {
        const skeleton = poseSkeletons(scenario, timeS)[0] ?? null;
        const { body } = scenario.people[0];
        if (skeleton === null) throw new Error('The treated person must be there at the start.');
        for (const side of SIDES) {
          for (const [shape, joint] of [
            [armShape(body, skeleton, side), 'Wrist'],
            [legShape(body, skeleton, side), 'Ankle'],
          ] as const) {
            const mesh = meshField(shape.field, shape.bounds, shape.cellM);
            const surface = points(mesh.positions).map((place) => fromFrame(shape.frame, place));
            const nearest = Math.min(
              ...surface.map((place) => distance(place, skeleton.joints[`${side}${joint}`])),
            );
            // A wrist or ankle is 4 to 9 cm thick: its centre is 2 to 4.5 cm under the skin.
            expect(nearest).toBeGreaterThan(0.018);
            expect(nearest).toBeLessThan(0.045);
          }
        }
      }
    },
  );
});
