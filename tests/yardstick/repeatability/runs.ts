import { createScenario, type ClipOutline, type Scenario } from '../../../demo-clips/generator/scenario.ts';
import { createRandom } from '../../../demo-clips/generator/seeded-random.ts';
import type { YardstickCase } from '../../../demo-clips/generator/yardstick/cases.ts';
import { DEFAULT_THRESHOLDS } from '../../../src/core/exercises/thresholds.ts';
import type { PoseFrame } from '../../../src/core/pose/pose-frame.ts';
import { measureAndJudge } from '../../../src/core/session/build-session.ts';
import { landmarkNoise } from '../landmark-noise.ts';
import { foundFrames, LANDMARKS_OF, type TraceModel } from '../trace.ts';
import { readTrace } from '../trace-files.ts';
import { truthOf } from '../truth.ts';
import { movementOf, settingsOf } from '../validation/case-settings.ts';
import { eventsOf, type YardstickSet } from '../yardstick-set.ts';
import type { Condition } from './conditions.ts';
import type { SetValues } from './kept-values.ts';
import { setValues } from './quantities.ts';
import { withBodyAnew, withCameraAnew } from './scenes.ts';
import { networkErrors, transplantedPose, type NetworkErrors } from './transplanted-pose.ts';

/** Largest turn of a camera that is put up anew, degrees either way from square. */
const MOST_YAW_DEG = { 'camera-20': 20, 'camera-20-own': 20, 'camera-45': 45 } as const;

/** With what the network's errors are had. */
interface Measuring {
  readonly model: TraceModel;
  readonly rateHz: number;
  /** Cases whose network errors may be put on others. */
  readonly donors: readonly YardstickCase[];
}

/** The case's movement measured once more under a condition; `again` from 0. The same every time. */
export function measureAgain(
  drawnCase: YardstickCase,
  condition: Condition,
  again: number,
  measuring: Measuring,
): SetValues {
  const outline = outlineUnder(drawnCase.outline, condition, again);
  const scenario = createScenario(outline);
  const random = createRandom(drawnCase.outline.seed).fork(`${condition} ${String(again)}`);
  const isOwn = condition === 'noise' || condition === 'camera-20-own';
  const donors = isOwn ? [] : donorsFor(drawnCase, outline.camera.yawDeg, measuring.donors);
  const donor = donors[Math.floor(random.fork('donor').between(0, donors.length))] ?? drawnCase;
  const errors = errorsOf(donor, measuring.model);
  const noiseSeed = Math.floor(random.fork('noise').between(0, 2 ** 31));
  const set = setOf(scenario, errors, noiseSeed, measuring.rateHz);
  const { findings } = measureAndJudge(
    set.frames,
    settingsOf(outline),
    DEFAULT_THRESHOLDS,
    LANDMARKS_OF[measuring.model],
  );
  return setValues(findings.judgement, set);
}

function outlineUnder(outline: ClipOutline, condition: Condition, again: number): ClipOutline {
  if (condition === 'noise') return outline;
  if (condition === 'body') return withBodyAnew(outline, again);
  return withCameraAnew(outline, MOST_YAW_DEG[condition], again);
}

/** Other cases of the same movement whose camera is turned about as far to the same side. */
export function donorsFor(
  own: YardstickCase,
  yawDeg: number,
  cases: readonly YardstickCase[],
): YardstickCase[] {
  const movement = movementOf(own);
  const bands = [...new Set(cases.map(({ yawBandDeg }) => yawBandDeg))];
  const nearest = bands.reduce((best, band) =>
    Math.abs(band - Math.abs(yawDeg)) < Math.abs(best - Math.abs(yawDeg)) ? band : best,
  );
  return cases.filter(
    (one) =>
      one.id !== own.id &&
      movementOf(one) === movement &&
      one.yawBandDeg === nearest &&
      (nearest === 0 || Math.sign(one.outline.camera.yawDeg) === Math.sign(yawDeg)),
  );
}

/** What a network misplaced in a case, from its kept trace; null where it never found anybody. */
export function errorsOf(donor: YardstickCase, model: TraceModel): NetworkErrors | null {
  return networkErrors(createScenario(donor.outline), foundFrames(readTrace(donor.id), model));
}

/** The whole scene at full rate as a network that errs so would see it. */
export function setOf(
  scenario: Scenario,
  errors: NetworkErrors | null,
  noiseSeed: number,
  rateHz: number,
): Pick<YardstickSet, 'frames' | 'truth' | 'events'> {
  const truthAt = truthOf(scenario);
  const { facingSide, widthPx, heightPx } = scenario.outline.camera;
  const poseAt = errors === null ? () => null : transplantedPose(errors, scenario);
  const withNoise = landmarkNoise(noiseSeed, facingSide, 1);
  const moments = Array.from({ length: Math.floor(scenario.durationS * rateHz) }, (_, i) =>
    truthAt(i / rateHz),
  );
  const frames = moments.map((moment): PoseFrame => {
    const { timeSeconds } = moment.truth;
    const clear = poseAt(moment);
    const pose = clear === null ? null : withNoise(clear, timeSeconds, moment.trunkPx);
    return { timeSeconds, widthPx, heightPx, pose, people: pose === null ? 0 : 1, brightness: null };
  });
  return { frames, truth: moments.map(({ truth }) => truth), events: eventsOnce(scenario) };
}

const EVENTS = new WeakMap<ClipOutline['people'], YardstickSet['events']>();

/** What happens does not depend on the camera: it is worked out once for the same people. */
function eventsOnce(scenario: Scenario): YardstickSet['events'] {
  const { people } = scenario.outline;
  const events = EVENTS.get(people) ?? eventsOf(scenario);
  EVENTS.set(people, events);
  return events;
}
