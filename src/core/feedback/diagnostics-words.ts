import type { EstimatorIdentity } from '../pose/pose-estimator.ts';
import type { PictureSpeed } from '../pose/picture-speed.ts';
import type { PoseBackend } from '../pose/pose-service.ts';
import { BACKEND_WORDS } from './speed-words.ts';

/** How the page itself is doing, as far as the browser tells. */
export interface PageHealth {
  /** Longest stretch in which the page's main thread did nothing else, since so many seconds ago; null when not told. */
  longestPauseMs(withinSeconds: number): number | null;
  /** Memory that the page's scripts use; null when not told. */
  memoryBytes(): number | null;
}

/** What is known of a running measurement. */
export interface RunningFacts {
  readonly software: string;
  readonly browser: string;
  readonly identity: EstimatorIdentity | null;
  readonly backend: PoseBackend | null;
  /** Of the last ten seconds; null while no two pictures came. */
  readonly speed: PictureSpeed | null;
  readonly isLive: boolean;
  readonly picture: { readonly widthPx: number; readonly heightPx: number } | null;
  readonly longestPauseMs: number | null;
  readonly memoryBytes: number | null;
}

/** A name and its value, as both are read. */
export type FactRow = readonly [name: string, value: string];

const NOT_TOLD = 'not told by this browser';
const NOT_YET = 'not known yet';

/** The facts in the order in which they are read. */
export function runningRows(facts: RunningFacts): readonly FactRow[] {
  const { identity, backend, speed, picture } = facts;
  const ofSpeed = (words: (speed: PictureSpeed) => string): string =>
    speed === null ? NOT_YET : words(speed);
  return [
    ['Pose network', identity === null ? 'not loaded yet' : identity.model.replace('blazepose-', '')],
    ['Computes on', backend === null ? 'not loaded yet' : BACKEND_WORDS[backend]],
    ['Runtime', identity?.runtime ?? 'not loaded yet'],
    ['Measured', ofSpeed(({ rateHz }) => `${rateHz.toFixed(1)} pictures a second`)],
    ['Passed over', ofSpeed((now) => (facts.isLive ? passedOver(now) : 'none: clips wait'))],
    [
      'Work per picture',
      ofSpeed(({ workMs }) => `median ${ms(workMs.median)}, 95 % below ${ms(workMs.p95)}`),
    ],
    [
      'The network’s part',
      ofSpeed(({ networkMs }) => (networkMs === null ? 'not told by the library' : ms(networkMs))),
    ],
    ['From capture to number', ofSpeed((now) => (facts.isLive ? latency(now) : 'does not apply to clips'))],
    ['Age of the number', ofSpeed((now) => (facts.isLive ? age(now) : 'does not apply to clips'))],
    ['Longest pause of the page', facts.longestPauseMs === null ? NOT_TOLD : pause(facts.longestPauseMs)],
    ['Picture', picture === null ? NOT_YET : `${picture.widthPx} × ${picture.heightPx} px`],
    [
      'Memory of the page',
      facts.memoryBytes === null ? NOT_TOLD : `${Math.round(facts.memoryBytes / 1e6)} MB`,
    ],
  ];
}

/** The same as plain text, with software and browser, to be sent along with a question. */
export function runningText(facts: RunningFacts): string {
  const rows: readonly FactRow[] = [
    ['Software', facts.software],
    ['Browser', facts.browser],
    ...runningRows(facts),
    ['File of the network, SHA-256', facts.identity?.modelSha256s.join(', ') ?? 'not loaded yet'],
  ];
  return rows.map(([name, value]) => `${name}: ${value}`).join('\n');
}

function ms(value: number): string {
  return `${value < 10 ? value.toFixed(1) : Math.round(value)} ms`;
}

function passedOver({ passedOverHz }: PictureSpeed): string {
  return passedOverHz === null ? 'not counted' : `${passedOverHz.toFixed(1)} pictures a second`;
}

function latency({ latencyMs }: PictureSpeed): string {
  if (latencyMs === null) return NOT_TOLD;
  return `median ${ms(latencyMs.median)}, 95 % below ${ms(latencyMs.p95)}, largest ${ms(latencyMs.largest)}`;
}

function age({ ageMs, latencyMs }: PictureSpeed): string {
  return `95 % below ${ms(ageMs)}${latencyMs === null ? ', without the way from camera to page' : ''}`;
}

function pause(longestMs: number): string {
  return longestMs === 0 ? 'none over 50 ms in the last 10 s' : `${ms(longestMs)} in the last 10 s`;
}
