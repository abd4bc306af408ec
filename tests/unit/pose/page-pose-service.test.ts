import { describe, expect, it } from 'vitest';
import { EstimatorError } from '../../../src/core/pose/estimator-problem.ts';
import type { FrameSource, SourcePicture } from '../../../src/core/pose/frame-source.ts';
import { pagePoseService } from '../../../src/core/pose/page-pose-service.ts';
import type { PoseEstimator } from '../../../src/core/pose/pose-estimator.ts';
import type { PoseModel, PoseService, SeenPicture } from '../../../src/core/pose/pose-service.ts';
import { STANDING, SyntheticNetwork } from '../../helpers/synthetic-body.ts';

const STANDING_POSE = new SyntheticNetwork({}).pose(STANDING);
const WORK_MS = 12;
const BOTH: readonly [PoseModel, ...PoseModel[]] = ['full', 'lite'];

/** Estimators on a clock of their own: each look takes 12 ms of it. */
class Bench {
  nowMs = 0;
  readonly calls: string[] = [];
  failsFrom = Infinity;

  service(model: PoseModel = 'full', offered = BOTH): Promise<PoseService> {
    return pagePoseService(
      {
        offered,
        createEstimator: (wanted) => Promise.resolve(this.#estimator(wanted)),
        nowMs: () => this.nowMs,
      },
      model,
      () => undefined,
    );
  }

  #estimator(model: PoseModel): PoseEstimator {
    return {
      identity: { model: `blazepose-${model}`, runtime: 'imitated', modelSha256s: ['0'.repeat(64)] },
      estimate: (_picture, timeSeconds) => {
        if (timeSeconds >= this.failsFrom) return Promise.reject(new EstimatorError('failed', 'as told'));
        this.nowMs += WORK_MS;
        this.calls.push(model);
        return Promise.resolve({ pose: STANDING_POSE, people: 1 });
      },
      reset: () => Promise.resolve(),
      dispose: () => void this.calls.push(`dispose ${model}`),
    };
  }
}

/** A source of pictures at 30 a second; between is called before each. */
function source(
  kind: 'clip' | 'live',
  count: number,
  between: (k: number) => unknown = () => null,
): FrameSource {
  return {
    kind: kind === 'clip' ? 'clip' : 'camera',
    durationSeconds: null,
    label: kind,
    feed:
      kind === 'clip'
        ? { kind, from: 'a-clip' }
        : { kind, stream: {} as MediaStream, whenEnded: 'camera-unplugged', framing: null },
    stopping: new AbortController().signal,
    stop: () => undefined,
    async run(consume) {
      for (let k = 0; k < count; k += 1) {
        await between(k);
        await consume({
          picture: { name: k } as unknown as SourcePicture['picture'],
          widthPx: 640,
          heightPx: 480,
          timeSeconds: k / 30,
          brightness: null,
        });
      }
      return { kind: 'finished' };
    },
  };
}

describe('measuring on the page', () => {
  it('hands on each picture with its landmarks and the time they took', async () => {
    const seen: SeenPicture[] = [];
    const service = await new Bench().service();
    const end = await service.run(
      source('clip', 10),
      { side: 'left', clipRateHz: null, liveStepSeconds: 0 },
      (one) => seen.push(one),
    );
    expect(end).toEqual({ kind: 'finished' });
    expect(seen).toHaveLength(10);
    expect(seen[3]?.picture).toEqual({ name: 3 });
    expect(seen[3]?.frame.timeSeconds).toBeCloseTo(0.1, 9);
    expect(seen[3]?.timing).toEqual({ workMs: WORK_MS, networkMs: null, latencyMs: null, dropped: null });
  });

  it('measures as many pictures of a clip as are wished, whatever the pace of live sources', async () => {
    const times: number[] = [];
    const service = await new Bench().service();
    await service.run(source('clip', 60), { side: 'left', clipRateHz: 15, liveStepSeconds: 1 }, ({ frame }) =>
      times.push(frame.timeSeconds),
    );
    expect(times).toHaveLength(30);
  });

  it('follows a change of pace within a live source', async () => {
    const times: number[] = [];
    const service = await new Bench().service();
    await service.run(
      source('live', 60, (k) => k === 30 && service.pace(1 / 10)),
      { side: 'left', clipRateHz: 2, liveStepSeconds: 0 },
      ({ frame }) => times.push(frame.timeSeconds),
    );
    expect(times.filter((time) => time < 0.999)).toHaveLength(30);
    expect(times.filter((time) => time >= 0.999)).toHaveLength(10);
  });

  it('changes the network between two pictures, frees the one before and says which one computes', async () => {
    const bench = new Bench();
    const service = await bench.service('full');
    await service.run(
      source('live', 4, (k) => k === 2 && service.change('lite', () => undefined)),
      { side: 'left', clipRateHz: null, liveStepSeconds: 0 },
      () => undefined,
    );
    expect(bench.calls).toEqual(['full', 'full', 'dispose full', 'lite', 'lite']);
    expect(service.identity.model).toBe('blazepose-lite');
    service.dispose();
    expect(bench.calls.at(-1)).toBe('dispose lite');
  });

  it('stays with the only network there is, and says so', async () => {
    const bench = new Bench();
    const service = await bench.service('heavy', ['full']);
    await service.change('lite', () => undefined);
    expect(service.identity.model).toBe('blazepose-full');
    expect(bench.calls).toEqual([]);
  });

  it('rejects with what the estimator says', async () => {
    const bench = new Bench();
    bench.failsFrom = 0.05;
    const service = await bench.service();
    const options = { side: 'left', clipRateHz: null, liveStepSeconds: 0 } as const;
    await expect(service.run(source('live', 9), options, () => undefined)).rejects.toBeInstanceOf(
      EstimatorError,
    );
  });
});
