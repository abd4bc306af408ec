import { createHash } from 'node:crypto';
import { poseSkeletons, createScenario } from '../../demo-clips/generator/scenario.ts';
import type { YardstickCase } from '../../demo-clips/generator/yardstick/cases.ts';

/** Joints are compared to the tenth of a millimetre: what a picture cannot show does not make a trace stale. */
const STEPS_PER_METRE = 10_000;

/**
 * Digest of everything that a case's pictures are drawn from, 16 hex digits: seed, camera, room, bodies, equipment, the
 * moments, and where every joint is in them. The movement is code, so it enters by what comes of it. How the figure's
 * flesh is drawn does not enter.
 */
export function outlineDigest({ outline, drawnTimesSeconds }: YardstickCase): string {
  const scenario = createScenario(outline);
  const joints = drawnTimesSeconds.map((timeSeconds) =>
    poseSkeletons(scenario, timeSeconds).map((skeleton) =>
      skeleton === null
        ? null
        : Object.values(skeleton.joints).map((joint) =>
            joint.map((metres) => Math.round(metres * STEPS_PER_METRE)),
          ),
    ),
  );
  const { seed, camera, room } = outline;
  const bodies = scenario.people.map(({ body }) => body);
  const equipment = scenario.people.map(({ performance }) => performance.equipment);
  const drawnFrom = JSON.stringify({ seed, camera, room, bodies, equipment, drawnTimesSeconds, joints });
  return createHash('sha256').update(drawnFrom).digest('hex').slice(0, 16);
}
