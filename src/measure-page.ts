import { name, version } from '../package.json';
import { momentOf } from './adapters/clock/moment.ts';
import { createBlazePoseEstimator } from './adapters/estimator/blaze-pose-estimator.ts';
import { openClip } from './adapters/frames/clip-source.ts';
import { openPoseWorkerService } from './adapters/pose-worker/pose-worker-service.ts';
import type { ExerciseSettings } from './core/exercises/exercise.ts';
import { DEFAULT_THRESHOLDS } from './core/exercises/thresholds.ts';
import { framesCsv } from './core/export/frames-csv.ts';
import { reasonSentence } from './core/feedback/reasons.ts';
import { estimatorSentence, sourceSentence } from './core/feedback/source-problems.ts';
import { NOT_MEASURED_REASONS } from './core/kinematics/measured.ts';
import { EstimatorError } from './core/pose/estimator-problem.ts';
import type { FrameSource, SourceEnd, SourceProblem } from './core/pose/frame-source.ts';
import { pagePoseService } from './core/pose/page-pose-service.ts';
import type { EstimatorIdentity } from './core/pose/pose-estimator.ts';
import type { PoseFrame } from './core/pose/pose-frame.ts';
import type { EstimatorName, PoseService } from './core/pose/pose-service.ts';
import { assembleRecord, type KeptSet } from './core/session/assemble-record.ts';
import { measureAndJudge } from './core/session/build-session.ts';
import { encodeFrames } from './core/session/quantised-frames.ts';
import {
  type MeasuredTime,
  RECORD_FORMAT,
  RECORD_VERSION,
  type SessionHeader,
} from './core/session/session-record.ts';
import { judgeHere } from './core/session/set-judge.ts';
import { type SetSummary, summariseSession } from './core/session/summary.ts';

/** What a clip's header tells. */
export interface ClipFacts {
  readonly durationSeconds: number | null;
  readonly problem: SourceProblem | null;
}

/** A clip to measure: its address on our own origin, its name for the record, and what is done in it. */
export interface MeasureJob {
  readonly url: string;
  readonly label: string;
  readonly settings: ExerciseSettings;
  readonly setup: MeasureSetup;
}

/** What measures: in workers, or 'library-full' for the library's own runtime on this page. */
export type MeasureNetwork = EstimatorName | 'library-full';

/** With what a page measures: the same for all its jobs. */
export interface MeasureSetup {
  readonly network: MeasureNetwork;
  /** Pictures measured a second of the clip's time; null for all. */
  readonly rateHz: number | null;
  readonly workers: number;
}

/** What was measured in a clip, as it is written. */
export interface ClipMeasured {
  readonly recordJson: string;
  readonly framesCsv: string;
  readonly summary: SetSummary;
  readonly durationSeconds: number;
  readonly frames: number;
}

/** What became of a job. */
export interface MeasureOutcome {
  /** One sentence, or null when the clip was measured. */
  readonly problem: string | null;
  /** Null when not one picture could be read. A clip that breaks off is measured as far as it goes. */
  readonly measured: ClipMeasured | null;
  /** True when nothing can be measured by this page any more, so that the other clips need another one. */
  readonly isPageSpent: boolean;
}

/** What `npm run measure` calls in this page. */
export interface MeasurePage {
  readHeader(url: string): Promise<ClipFacts>;
  measure(job: MeasureJob): Promise<MeasureOutcome>;
}

declare global {
  interface Window {
    measurePage?: MeasurePage;
    /** Put there by `npm run measure`: the share of a job's clip that is measured, 0 to 1. */
    reportProgress?: (url: string, share: number) => Promise<void>;
  }
}

const MODEL_BASE = '/models/';

/** How often progress is told, milliseconds. */
const PROGRESS_MS = 500;

let service: Promise<PoseService> | null = null;

async function readHeader(url: string): Promise<ClipFacts> {
  const opened = await openClip(url, { kind: 'clip', label: url });
  if (!opened.ok) return { durationSeconds: null, problem: opened.problem };
  return { durationSeconds: opened.source.durationSeconds, problem: null };
}

async function measure(job: MeasureJob): Promise<MeasureOutcome> {
  const startedAt = momentOf(new Date());
  try {
    service ??= openService(job.setup);
    const running = await service;
    const opened = await openClip(job.url, { kind: 'clip', label: job.label });
    if (!opened.ok) return { problem: sourceSentence(opened.problem), measured: null, isPageSpent: false };
    const { frames, end } = await follow(running, opened.source, job);
    // Asked now: where a graphics processor was lost, the processor did it.
    const { identity } = running;
    const measured = await measuredClip(job, { identity, frames, startedAt, source: opened.source });
    const problem = end.kind === 'failed' ? sourceSentence(end.problem) : (measured?.problem ?? null);
    return { problem, measured: measured?.clip ?? null, isPageSpent: false };
  } catch (error) {
    const problem = error instanceof EstimatorError ? error.problem : 'failed';
    return { problem: estimatorSentence(problem), measured: null, isPageSpent: true };
  }
}

function openService({ network, workers }: MeasureSetup): Promise<PoseService> {
  const nothing = (): void => undefined;
  if (network === 'library-full') {
    const createEstimator = () => createBlazePoseEstimator({ modelBase: MODEL_BASE });
    const nowMs = () => performance.now();
    return pagePoseService({ offered: ['full'], createEstimator, nowMs }, 'full', nothing);
  }
  const spawn = () => new Worker(new URL('./pose-worker.ts', import.meta.url), { type: 'module' });
  return openPoseWorkerService({ spawn, modelBase: MODEL_BASE, backend: 'any', workers }, network, nothing);
}

async function follow(
  running: PoseService,
  source: FrameSource,
  { url, settings, setup }: MeasureJob,
): Promise<{ readonly frames: readonly PoseFrame[]; readonly end: SourceEnd }> {
  const frames: PoseFrame[] = [];
  let toldAt = performance.now();
  const onProgress = (share: number): void => {
    if (performance.now() - toldAt < PROGRESS_MS) return;
    toldAt = performance.now();
    void window.reportProgress?.(url, share);
  };
  const options = { side: settings.side, clipRateHz: setup.rateHz, liveStepSeconds: 0, onProgress };
  const end = await running.run(source, options, ({ frame }) => frames.push(frame));
  return { frames, end };
}

interface Followed {
  readonly identity: EstimatorIdentity;
  readonly frames: readonly PoseFrame[];
  readonly startedAt: string;
  readonly source: FrameSource;
}

async function measuredClip(
  { settings, label }: MeasureJob,
  { identity, frames, startedAt, source }: Followed,
): Promise<{ readonly clip: ClipMeasured; readonly problem: string | null } | null> {
  const [first] = frames;
  const last = frames.at(-1);
  if (first === undefined || last === undefined) return null;
  const judged = measureAndJudge(frames, settings, DEFAULT_THRESHOLDS, identity.model);
  const header: SessionHeader = {
    format: RECORD_FORMAT,
    schemaVersion: RECORD_VERSION,
    id: crypto.randomUUID(),
    createdAt: startedAt,
    software: { name, version },
    estimator: { ...identity },
    source: {
      kind: source.kind,
      label,
      durationSeconds: source.durationSeconds,
      widthPx: first.widthPx,
      heightPx: first.heightPx,
    },
    settings,
    thresholds: DEFAULT_THRESHOLDS,
    plan: null,
  };
  const kept: KeptSet = {
    beginning: { startedAt, painBefore: null },
    pieces: [encodeFrames(frames)],
    findings: judged.findings,
    answers: null,
    cutOff: false,
  };
  const record = await assembleRecord(header, [kept], judgeHere);
  return {
    clip: {
      recordJson: `${JSON.stringify(record)}\n`,
      framesCsv: framesCsv([{ setNumber: 1, series: judged.series, phases: judged.phases }]),
      summary: summariseSession(record.sets).whole,
      durationSeconds: source.durationSeconds ?? last.timeSeconds - first.timeSeconds,
      frames: frames.length,
    },
    problem: unmeasuredProblem(judged.findings.measuredTime),
  };
}

/** A clip in which the treated elbow was never measured could not be measured; its record says so frame by frame. */
function unmeasuredProblem({ share, notMeasuredSeconds }: MeasuredTime): string | null {
  if (share !== null && share > 0) return null;
  const [main] = Object.entries(notMeasuredSeconds).toSorted(([, a], [, b]) => b - a);
  const reason = NOT_MEASURED_REASONS.find((known) => known === main?.[0]) ?? 'too-short';
  return `Nothing was measured. ${reasonSentence(reason)}`;
}

window.measurePage = { readHeader, measure };
