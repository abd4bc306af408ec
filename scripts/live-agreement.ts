/**
 * `npm run live-agreement -- [--set proof|developing] [--rate 12]`: what is measured live, from the past alone, over the kept
 * traces of rendered people beside their true elbow angles. The record's own chain, which sees the whole set, is judged
 * by `npm run validate`.
 */
import { parseArgs } from 'node:util';
import { yardstickCases } from '../demo-clips/generator/yardstick/cases.ts';
import { isMeasured } from '../src/core/kinematics/measured.ts';
import { LiveMeasurer } from '../src/core/kinematics/live-measurer.ts';
import { hasTrace, readTrace } from '../tests/yardstick/trace-files.ts';
import { LANDMARKS_OF } from '../tests/yardstick/trace.ts';
import { movementOf, settingsOf, type Movement } from '../tests/yardstick/validation/case-settings.ts';
import { fullRateSet, type YardstickSet } from '../tests/yardstick/yardstick-set.ts';

const { values } = parseArgs({
  options: { set: { type: 'string', default: 'proof' }, rate: { type: 'string', default: '12' } },
});
const rateHz = Number(values.rate);
if (!(rateHz >= 5) || (values.set !== 'proof' && values.set !== 'developing')) {
  console.error('Give --set proof or developing, --rate 5 or more.');
  process.exit(2);
}

/** Pictures of one movement; lost: not measured after the first that was. */
interface Sums {
  pictures: number;
  measured: number;
  lost: number;
  inside: number;
  errorDeg: number;
}

function addSet(sums: Sums, { frames, truth }: YardstickSet, measurer: LiveMeasurer): void {
  let hasBegun = false;
  for (const [index, frame] of frames.entries()) {
    const elbow = measurer.step(frame, LANDMARKS_OF.full).frame.elbowFlexionDeg;
    const trueDeg = truth[index]?.elbowFlexionDeg ?? NaN;
    sums.pictures += 1;
    if (isMeasured(elbow)) {
      hasBegun = true;
      sums.measured += 1;
      sums.errorDeg += Math.abs(elbow.value - trueDeg);
      sums.inside += elbow.low <= trueDeg && trueDeg <= elbow.high ? 1 : 0;
    } else if (hasBegun) sums.lost += 1;
  }
}

const byMovement = new Map<Movement, Sums>();
for (const [index, drawnCase] of yardstickCases(values.set).entries()) {
  if (!hasTrace(drawnCase.id)) continue;
  const how = { model: 'full', rateHz, seed: index + 1, noise: 1 } as const;
  const movement = movementOf(drawnCase.outline);
  const sums = byMovement.get(movement) ?? { pictures: 0, measured: 0, lost: 0, inside: 0, errorDeg: 0 };
  addSet(
    sums,
    fullRateSet(drawnCase, readTrace(drawnCase.id), how),
    new LiveMeasurer(settingsOf(drawnCase.outline)),
  );
  byMovement.set(movement, sums);
}

const percent = (part: number, whole: number): string => `${((100 * part) / whole).toFixed(1)} %`;
console.log(`Live, ${values.set} set, full, ${String(rateHz)} pictures a second`);
for (const [movement, { pictures, measured, lost, inside, errorDeg }] of byMovement)
  console.log(
    `${movement.padEnd(10)} measured ${percent(measured, pictures)}, lost after it had begun ${percent(lost, pictures)}, ` +
      `mean error ${(errorDeg / measured).toFixed(2)} deg, truth inside the interval ${percent(inside, measured)}`,
  );
