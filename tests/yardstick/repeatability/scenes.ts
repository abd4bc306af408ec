import { createScenario, type ClipOutline } from '../../../demo-clips/generator/scenario.ts';
import { createRandom } from '../../../demo-clips/generator/seeded-random.ts';
import { drawBody } from '../../../demo-clips/generator/yardstick/bodies.ts';
import { drawCamera, placesToShow } from '../../../demo-clips/generator/yardstick/framing.ts';

/** Bodies that cannot reach the bar, or fit no picture, are drawn again at most so often. */
const MOST_DRAWS = 20;

/** The same person doing the same, before a camera that was put up anew: at a yaw from -most to most degrees. */
export function withCameraAnew(outline: ClipOutline, mostYawDeg: number, again: number): ClipOutline {
  const random = createRandom(outline.seed).fork(`camera anew ${String(again)}`);
  const { facingSide, widthPx, heightPx } = outline.camera;
  const yawDeg = random.fork('yaw').between(-mostYawDeg, mostYawDeg);
  const view = { facingSide, yawDeg, widthPx, heightPx };
  const places = placesToShow(createScenario(outline));
  return { ...outline, camera: drawCamera(random.fork('placement'), view, places) };
}

/**
 * Another person, of another stature, build and proportions, who moves by the same script with the same sway and tremor,
 * before a camera put up for them at the same yaw.
 * @throws RangeError when nobody fits after many draws.
 */
export function withBodyAnew(outline: ClipOutline, again: number): ClipOutline {
  for (let draw = 0; draw < MOST_DRAWS; draw++)
    try {
      return drawnBody(outline, `body anew ${String(again)}.${String(draw)}`);
    } catch (error) {
      if (!(error instanceof RangeError)) throw error;
    }
  throw new RangeError(`withBodyAnew: nobody fits ${outline.name}.`);
}

function drawnBody(outline: ClipOutline, name: string): ClipOutline {
  const [treated, ...others] = outline.people;
  const random = createRandom(outline.seed).fork(name);
  const other: ClipOutline = {
    ...outline,
    // Proportions follow from the seed.
    seed: Math.floor(random.fork('seed').between(1, 2 ** 31)),
    people: [
      {
        body: drawBody(random.fork('body'), outline.room.wall),
        perform: (body) =>
          treated.perform(body, createRandom(outline.seed).fork('person 0').fork('performance')),
      },
      ...others,
    ],
  };
  const { facingSide, yawDeg, widthPx, heightPx } = outline.camera;
  const view = { facingSide, yawDeg, widthPx, heightPx };
  const places = placesToShow(createScenario(other));
  return { ...other, camera: drawCamera(random.fork('placement'), view, places) };
}
