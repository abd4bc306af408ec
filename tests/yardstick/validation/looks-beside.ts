import { createScenario } from '../../../demo-clips/generator/scenario.ts';
import type { YardstickCase } from '../../../demo-clips/generator/yardstick/cases.ts';
import { foundFrames, type MeasuredModel, type YardstickTrace } from '../trace.ts';
import { truthOf } from '../truth.ts';
import { movementOf, type Movement } from './case-settings.ts';
import { pictureAngleDeg } from './set-figures.ts';

/** The networks that are set side by side. */
const BESIDE = ['full', 'heavy', 'combined'] as const satisfies readonly MeasuredModel[];

/** What each network misses in the drawn pictures of one case, and what projection does there; degrees of the elbow. */
export interface LookErrors {
  readonly movement: Movement;
  readonly yawBandDeg: number;
  /** Angle between the landmarks in the picture less that between the true joints there. */
  readonly networkDeg: Readonly<Record<(typeof BESIDE)[number], readonly number[]>>;
  /** Angle between the true joints in the picture less the true angle. */
  readonly projectionDeg: readonly number[];
}

/** The errors of a case in the pictures as they were drawn: no interpolation, no noise and no chain enters. */
export function lookErrors(drawnCase: YardstickCase, trace: YardstickTrace): LookErrors {
  const truthAt = truthOf(createScenario(drawnCase.outline));
  const truths = drawnCase.drawnTimesSeconds.map((timeSeconds) => truthAt(timeSeconds).truth);
  const errorsOf = (model: MeasuredModel): number[] =>
    foundFrames(trace, model).flatMap((frame, i) => {
      const [seen, own] = [pictureAngleDeg(frame, drawnCase.outline.side), truths[i]];
      return seen === null || own === undefined ? [] : [seen - own.projectedElbowFlexionDeg];
    });
  return {
    movement: movementOf(drawnCase),
    yawBandDeg: drawnCase.yawBandDeg,
    networkDeg: { full: errorsOf('full'), heavy: errorsOf('heavy'), combined: errorsOf('combined') },
    projectionDeg: truths.map((own) => own.projectedElbowFlexionDeg - own.elbowFlexionDeg),
  };
}

/** Rows of mean absolute errors (in brackets the mean with its sign): projection, then each network. */
export function lookRows(
  all: readonly LookErrors[],
  movements: readonly (readonly [Movement, string])[],
): string[][] {
  const bands = [...new Set(all.map(({ yawBandDeg }) => yawBandDeg))].sort((a, b) => a - b);
  return movements.flatMap(([movement, words]) =>
    bands.flatMap((yaw) => {
      const own = all.filter((one) => one.movement === movement && one.yawBandDeg === yaw);
      if (own.length === 0) return [];
      return [
        [
          words,
          `${String(yaw)}°`,
          told(own.flatMap(({ projectionDeg }) => projectionDeg)),
          ...BESIDE.map((model) => told(own.flatMap(({ networkDeg }) => networkDeg[model]))),
        ],
      ];
    }),
  );
}

/** Names of the columns of lookRows. */
export const LOOK_HEAD = ['movement', 'camera yaw', 'projection', ...BESIDE.map((model) => `\`${model}\``)];

function told(errors: readonly number[]): string {
  const mean = (of: (error: number) => number): number =>
    errors.reduce((sum, error) => sum + of(error), 0) / Math.max(1, errors.length);
  return `${mean(Math.abs).toFixed(1)} (${mean((error) => error).toFixed(1)})`;
}
