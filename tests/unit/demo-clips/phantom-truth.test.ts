import { readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { PerspectiveCamera, Vector3 } from 'three';
import { describe, expect, it } from 'vitest';
import { createCamera, projectPoint } from '../../../demo-clips/generator/camera.ts';
import { CLIPS } from '../../../demo-clips/generator/clips.ts';
import { minimumJerk } from '../../../demo-clips/generator/motion-script.ts';
import { createScenario, posePhantom } from '../../../demo-clips/generator/scenario.ts';
import { truthCsv } from '../../../demo-clips/generator/truth-csv.ts';
import { clipTruthSchema, type ClipTruth } from '../../../demo-clips/generator/truth-schema.ts';
import { clipTruth } from '../../../demo-clips/generator/truth.ts';
import { angleBetweenDeg, subtract, type Vec3 } from '../../../demo-clips/generator/vector.ts';

const kept = (file: string): string =>
  readFileSync(fileURLToPath(new URL(`../../../demo-clips/${file}`, import.meta.url)), 'utf8');
const NAMES = CLIPS.map(({ name }) => name);
const outlineOf = (name: string) => {
  const outline = CLIPS.find((clip) => clip.name === name);
  if (outline === undefined) throw new Error(`There is no clip named ${name}.`);
  return outline;
};
const keptTruth = (name: string): ClipTruth => clipTruthSchema.parse(JSON.parse(kept(`${name}.truth.json`)));

type Row = Readonly<Record<string, string>>;
function keptRows(name: string): Row[] {
  const [header = '', ...lines] = kept(`${name}.truth.csv`).trimEnd().split('\n');
  const columns = header.split(',');
  return lines.map((line) => Object.fromEntries(line.split(',').map((cell, i) => [columns[i] ?? '', cell])));
}
const cell = (row: Row, column: string): number => Number(row[column] ?? NaN);
const place = (row: Row, joint: string): Vec3 => [
  cell(row, `${joint}_x_m`),
  cell(row, `${joint}_y_m`),
  cell(row, `${joint}_z_m`),
];

describe.each(NAMES)('the kept truth of %s', (name) => {
  const outline = outlineOf(name);

  // A second on a free machine; given time because the machine may be busy drawing.
  it('comes out of its seed again', { timeout: 30_000 }, () => {
    const scenario = createScenario(outline);
    expect(clipTruth(scenario)).toEqual(keptTruth(name));
    expect(truthCsv(scenario) === kept(`${name}.truth.csv`)).toBe(true);
  });

  it('has the agreed columns first, and a row per frame at the frame times', () => {
    const rows = keptRows(name);
    const header = kept(`${name}.truth.csv`).split('\n', 1)[0] ?? '';
    const agreed = 'time_s,elbow_flexion_deg,shoulder_flexion_deg,trunk_inclination_deg,torso_travel_cm,';
    expect(header.startsWith(agreed)).toBe(true);
    expect(rows).toHaveLength(keptTruth(name).frameCount);
    rows.forEach((row, frame) => {
      expect(cell(row, 'time_s')).toBeCloseTo(frame / outline.fps, 4);
    });
  });

  it('has angles and travel that follow from the written joint places', () => {
    const rows = keptRows(name);
    const first = rows[0];
    if (first === undefined) throw new Error('The truth has no rows.');
    for (const row of rows.filter((r) => r['elbow_flexion_deg'] !== '')) {
      const [shoulder, elbow, wrist] = [
        place(row, `${outline.side}_shoulder`),
        place(row, `${outline.side}_elbow`),
        place(row, `${outline.side}_wrist`),
      ];
      // Places are written to a tenth of a millimetre, a fiftieth of a degree over a forearm.
      const elbowDeg = angleBetweenDeg(subtract(elbow, shoulder), subtract(wrist, elbow));
      expect(Math.abs(elbowDeg - cell(row, 'elbow_flexion_deg'))).toBeLessThan(0.12);
      const travel = subtract(place(row, 'mid_shoulder'), place(first, 'mid_shoulder'));
      expect(Math.abs(Math.hypot(...travel) * 100 - cell(row, 'torso_travel_cm'))).toBeLessThan(0.03);
      const trunk = subtract(place(row, 'mid_shoulder'), place(row, 'mid_hip'));
      expect(Math.abs(angleBetweenDeg(trunk, [0, 1, 0]) - cell(row, 'trunk_inclination_deg'))).toBeLessThan(
        0.05,
      );
    }
  });
});

describe('the events of the clips', () => {
  it.each([
    ['hold-drift', 'hold', 0, 0, 0],
    ['body-curl-strict', 'body-curl', 5, 0, 0],
    ['body-curl-row', 'body-curl', 5, 0, 5],
    ['band-curl-oblique', 'band-curl', 6, 1, 0],
    ['free-curl-mirror', 'free-curl', 6, 0, 0],
    ['walk-out-walk-in', 'free-curl', 2, 0, 0],
  ] as const)(
    '%s shows a %s with %i repetitions, %i partial, %i shoulder-dominant',
    (name, exercise, all, partial, row) => {
      const truth = keptTruth(name);
      expect(truth.exercise).toBe(exercise);
      expect(truth.repetitions).toHaveLength(all);
      expect(truth.repetitions.filter((r) => r.partial)).toHaveLength(partial);
      expect(truth.repetitions.filter((r) => r.shoulderDominant)).toHaveLength(row);
      expect(truth.durationS).toBeGreaterThanOrEqual(10);
      expect(truth.durationS).toBeLessThanOrEqual(45);
    },
  );

  it('reach in a partial repetition about half of the range of the others', () => {
    const rows = keptRows('band-curl-oblique');
    const ranges = keptTruth('band-curl-oblique').repetitions.map(({ startS, endS, partial }) => {
      const angles = rows
        .filter((row) => cell(row, 'time_s') >= startS && cell(row, 'time_s') <= endS)
        .map((row) => cell(row, 'elbow_flexion_deg'));
      return { partial, rangeDeg: Math.max(...angles) - (angles[0] ?? NaN) };
    });
    const full = ranges.filter((r) => !r.partial).map((r) => r.rangeDeg);
    const half = ranges.find((r) => r.partial)?.rangeDeg ?? NaN;
    expect(half / Math.min(...full)).toBeGreaterThan(0.4);
    expect(half / Math.max(...full)).toBeLessThan(0.6);
  });

  it('leave the target range once during the hold, and cross its edge slowly enough to be dated', () => {
    const { holdsInRangeS, durationS } = keptTruth('hold-drift');
    expect(holdsInRangeS).toHaveLength(2);
    const [first, second] = holdsInRangeS;
    expect((second?.[0] ?? NaN) - (first?.[1] ?? NaN)).toBeGreaterThan(2);
    expect(second?.[1] ?? NaN).toBeLessThan(durationS);
    const rows = keptRows('hold-drift');
    const near = rows.filter((row) => Math.abs(cell(row, 'time_s') - (first?.[1] ?? NaN)) < 0.1);
    const drop =
      cell(near[0] ?? {}, 'elbow_flexion_deg') - cell(near[near.length - 1] ?? {}, 'elbow_flexion_deg');
    const speed = drop / (cell(near[near.length - 1] ?? {}, 'time_s') - cell(near[0] ?? {}, 'time_s'));
    expect(speed).toBeGreaterThan(8);
    expect(speed).toBeLessThan(20);
  });

  it('leave the cells empty while the treated person is away', () => {
    const rows = keptRows('walk-out-walk-in');
    const [treated, second] = keptTruth('walk-out-walk-in').people;
    const goneS = treated?.inPictureS[0]?.[1] ?? NaN;
    expect(second?.inPictureS[0]?.[0] ?? NaN).toBeGreaterThan(goneS);
    const away = rows.filter((row) => cell(row, 'time_s') > goneS);
    expect(away.length).toBeGreaterThan(100);
    expect(away.every((row) => row['elbow_flexion_deg'] === '' && row['elbow_visible'] === '0')).toBe(true);
  });
});

describe('the camera', () => {
  it('projects as the renderer of the clips does', () => {
    const placement = { ...outlineOf('band-curl-oblique').camera, rollDeg: 3 };
    const camera = createCamera(placement);
    const eye = new PerspectiveCamera(placement.verticalFieldOfViewDeg, 640 / 480, 0.1, 30);
    eye.position.set(...camera.position);
    eye.up.set(...camera.up);
    eye.lookAt(new Vector3(...placement.lookAt));
    eye.updateMatrixWorld();
    for (const point of [
      [0, 1, 0],
      [0.3, 0.4, -0.2],
      [-0.5, 1.7, 0.3],
    ] as const) {
      const seen = new Vector3(...point).project(eye);
      const { xPx, yPx } = projectPoint(camera, point);
      expect(xPx).toBeCloseTo(((seen.x + 1) / 2) * 640, 6);
      expect(yPx).toBeCloseTo(((1 - seen.y) / 2) * 480, 6);
    }
  });

  it('sees a right angle under 25 deg of yaw as the cosine law says', () => {
    // A forearm that points at the front is foreshortened by cos 25; the right angle itself stays, seen from afar.
    const scenario = createScenario({ ...outlineOf('band-curl-oblique') });
    const pose = posePhantom(scenario, 0);
    expect(pose).not.toBeNull();
    const far = createCamera({ ...scenario.outline.camera, distanceM: 5000, heightM: 0.92, rollDeg: 0 });
    const [elbow, ahead] = [projectPoint(far, [0, 0.92, 0]), projectPoint(far, [0.3, 0.92, 0])];
    const above = projectPoint(far, [0, 1.22, 0]);
    const share = Math.hypot(ahead.xPx - elbow.xPx, ahead.yPx - elbow.yPx) / Math.abs(above.yPx - elbow.yPx);
    expect(share).toBeCloseTo(Math.cos((25 * Math.PI) / 180), 3);
  });
});

describe('the course of a movement', () => {
  it('is the minimum-jerk one: half way at half time, fastest there at 1.875 times the mean', () => {
    // T. Flash, N. Hogan, J. Neurosci. 5 (1985): 10 u^3 - 15 u^4 + 6 u^5, whose slope at 1/2 is 15/8.
    expect(minimumJerk(0.5)).toBe(0.5);
    expect((minimumJerk(0.5005) - minimumJerk(0.4995)) / 0.001).toBeCloseTo(1.875, 4);
    expect([minimumJerk(-1), minimumJerk(2)]).toEqual([0, 1]);
  });
});
