import type { PoseModel } from '../../src/core/pose/pose-service.ts';
import { openBench } from './open-bench.ts';
import { spreadOf } from './spread.ts';

const MODELS: readonly PoseModel[] = ['lite', 'full', 'heavy'];

/** Most that the pipeline may take, as a multiple of the bare network. */
const MOST_OVER_KERNEL: Readonly<Record<PoseModel, number>> = { lite: 1.25, full: 1.15, heavy: 1.15 };
/** How many times faster than the library as it comes the pipeline must be with the full network. */
const LEAST_OVER_LIBRARY = 10;

/** Pictures that are timed: enough for a steady median, few where one takes seconds. */
const PICTURES = 30;
const ROUNDS: Readonly<Record<PoseModel, number>> = { lite: 6, full: 6, heavy: 3 };
const LIBRARY_PICTURES = { cpu: 30, 'as-it-comes': 8 } as const;
/** The first pictures pay for warming up and are left out. */
const WARM_UP = 3;

/** A goal and whether it was met. */
export interface Goal {
  readonly text: string;
  readonly isMet: boolean;
}

/** Times the networks and pipelines on the pictures of a clip, prints a table, and gives the goals. */
export async function benchNetworks(clipPath: string): Promise<Goal[]> {
  const clip = '/clips/0.mp4';
  const bench = await openBench(new Map([[clip, clipPath]]));
  const goals: Goal[] = [];
  console.log('network  what                              median ms   95th ms   of the kernel   computes on');
  try {
    for (const model of MODELS) {
      const page = await bench.openPage();
      const { backend, runtime } = await page.evaluate(
        (name) => window.benchPage.openOurs(name, 'any'),
        model,
      );
      const raced = await page.evaluate(
        ([url, pictures, rounds]) => window.benchPage.race(url, pictures, rounds),
        [clip, PICTURES, ROUNDS[model]] as const,
      );
      const samples = raced.slice(WARM_UP);
      const kernel = samples.map(({ kernelMs }) => kernelMs);
      const pipeline = samples.map(({ pipelineMs }) => pipelineMs);
      row(model, 'bare network (kernel)', kernel, kernel, `${runtime} (${backend})`);
      row(model, 'our pipeline in the worker', pipeline, kernel, `${runtime} (${backend})`);
      const cpu = await library(model, 'cpu');
      row(model, 'library, told to use the processor', cpu, kernel, 'processor, on the page');
      const asItComes = await library(model, 'as-it-comes');
      row(model, 'library as it comes', asItComes, kernel, 'WebGL, on the page');
      await page.close();
      const overKernel = spreadOf(samples.map(({ kernelMs, pipelineMs }) => pipelineMs / kernelMs)).median;
      goals.push({
        text: `${model}: pipeline at most ${String(MOST_OVER_KERNEL[model])} times the kernel, picture by picture: ${overKernel.toFixed(3)}`,
        isMet: overKernel <= MOST_OVER_KERNEL[model],
      });
      const overCpu = spreadOf(cpu).median / spreadOf(pipeline).median;
      goals.push({
        text: `${model}: faster than the library on the processor: ${overCpu.toFixed(2)} times`,
        isMet: overCpu > 1,
      });
      const overLibrary = spreadOf(asItComes).median / spreadOf(pipeline).median;
      if (model === 'full')
        goals.push({
          text: `full: at least ${String(LEAST_OVER_LIBRARY)} times as fast as the library as it comes: ${overLibrary.toFixed(1)} times`,
          isMet: overLibrary >= LEAST_OVER_LIBRARY,
        });
    }
  } finally {
    await bench.close();
  }
  return goals;

  /** On a page of its own: the library cannot be put back to another network. */
  async function library(model: PoseModel, mode: 'cpu' | 'as-it-comes'): Promise<readonly number[]> {
    const page = await bench.openPage();
    await page.evaluate(([name, how]) => window.benchPage.openLibrary(name, how), [model, mode] as const);
    const times = await page.evaluate(([url, count]) => window.benchPage.libraryMs(url, count), [
      clip,
      LIBRARY_PICTURES[mode] + WARM_UP,
    ] as const);
    await page.close();
    return times.slice(WARM_UP);
  }
}

function row(
  model: PoseModel,
  what: string,
  times: readonly number[],
  kernel: readonly number[],
  where: string,
): void {
  const { median, p95 } = spreadOf(times);
  const share = (median / spreadOf(kernel).median).toFixed(2);
  console.log(
    `${model.padEnd(8)} ${what.padEnd(36)}${median.toFixed(1).padStart(6)}${p95.toFixed(1).padStart(10)}` +
      `${share.padStart(16)}   ${where}`,
  );
}
