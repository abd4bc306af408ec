import type { Page } from 'playwright-core';
import type { PoseModel } from '../../src/core/pose/pose-service.ts';
import { openBench } from './open-bench.ts';
import type { SpeedSample } from './network-worker.ts';
import type { LibraryMode } from './page.ts';
import { spreadOf } from './spread.ts';

const MODELS: readonly PoseModel[] = ['lite', 'full', 'heavy'];

/** Most that the pipeline may take, as a multiple of the bare network. */
const MOST_OVER_KERNEL: Readonly<Record<PoseModel, number>> = { lite: 1.25, full: 1.15, heavy: 1.15 };
/** How many times faster than the library as it comes the pipeline must be with the full network. */
const LEAST_OVER_LIBRARY = 10;

/** Pictures that are timed in a turn, and turns: enough for a steady median, few where one takes seconds. */
const PICTURES = 20;
const TURNS = 4;
const PICTURES_AS_IT_COMES = 8;
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
      const libraryPage = await openLibrary(model, 'cpu');
      const samples: SpeedSample[] = [];
      const cpu: number[] = [];
      // By turns, so that whatever else the machine does falls on both.
      for (let turn = 0; turn < TURNS; turn += 1) {
        const raced = await page.evaluate(([url, pictures]) => window.benchPage.race(url, pictures, 1), [
          clip,
          PICTURES + WARM_UP,
        ] as const);
        samples.push(...raced.slice(WARM_UP));
        cpu.push(...(await libraryMs(libraryPage, PICTURES)));
      }
      await libraryPage.close();
      const kernel = samples.map(({ kernelMs }) => kernelMs);
      const pipeline = samples.map(({ pipelineMs }) => pipelineMs);
      row(model, 'bare network (kernel)', kernel, kernel, `${runtime} (${backend})`);
      row(model, 'our pipeline in the worker', pipeline, kernel, `${runtime} (${backend})`);
      row(model, 'library, told to use the processor', cpu, kernel, 'processor, on the page');
      const slowPage = await openLibrary(model, 'as-it-comes');
      const asItComes = await libraryMs(slowPage, PICTURES_AS_IT_COMES);
      await slowPage.close();
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
  async function openLibrary(model: PoseModel, mode: LibraryMode): Promise<Page> {
    const page = await bench.openPage();
    await page.evaluate(([name, how]) => window.benchPage.openLibrary(name, how), [model, mode] as const);
    return page;
  }

  async function libraryMs(page: Page, pictures: number): Promise<readonly number[]> {
    const times = await page.evaluate(([url, count]) => window.benchPage.libraryMs(url, count), [
      clip,
      pictures + WARM_UP,
    ] as const);
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
