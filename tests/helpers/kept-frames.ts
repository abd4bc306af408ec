import type { Page } from 'playwright-core';
import { z } from 'zod';

const piecesSchema = z.array(z.object({ frameCount: z.int(), timeTenthMs: z.array(z.int()) }));

/** Times of the frames that are on the disk of a page's address, of all sessions in their order, seconds of the camera's clock. */
export async function keptFrameTimes(page: Page): Promise<readonly number[]> {
  const pieces = await page.evaluate(
    () =>
      new Promise<unknown>((resolve, reject) => {
        const opening = indexedDB.open('forearmed');
        opening.onerror = () => reject(new Error('no database'));
        opening.onsuccess = () => {
          const all = opening.result.transaction('pieces').objectStore('pieces').getAll();
          all.onerror = () => reject(new Error('no pieces'));
          all.onsuccess = () => {
            opening.result.close();
            resolve(
              all.result.map(({ frames: { frameCount, timeTenthMs } }) => ({ frameCount, timeTenthMs })),
            );
          };
        };
      }),
  );
  return piecesSchema.parse(pieces).flatMap(({ timeTenthMs }) => {
    let at = 0;
    return timeTenthMs.map((step) => (at += step) / 10_000);
  });
}
