import { createBlazePoseEstimator } from './adapters/estimator/blaze-pose-estimator.ts';
import { openClip } from './adapters/frames/clip-source.ts';
import type { PoseFrame } from './core/pose/pose-frame.ts';

/** dev dump */
async function dump(url: string): Promise<unknown> {
  const t0 = performance.now();
  const w = window as unknown as { est?: Awaited<ReturnType<typeof createBlazePoseEstimator>> };
  w.est ??= await createBlazePoseEstimator({ modelBase: '/models/' });
  const est = w.est;
  const t1 = performance.now();
  const clip = await openClip(url, { kind: 'clip', label: url });
  if (!clip.ok) return clip;
  await est.reset();
  const t2 = performance.now();
  const frames: PoseFrame[] = [];
  const end = await clip.source.run(async (p) => {
    const s = await est.estimate(p.picture, p.timeSeconds);
    frames.push({
      timeSeconds: p.timeSeconds,
      widthPx: p.widthPx,
      heightPx: p.heightPx,
      brightness: p.brightness,
      ...s,
    });
  });
  return {
    end,
    load: t1 - t0,
    reset: t2 - t1,
    run: performance.now() - t2,
    n: frames.length,
    duration: clip.source.durationSeconds,
    identity: est.identity,
    frames,
  };
}
Object.assign(window, { dump });
