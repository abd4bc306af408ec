import { describe, expect, it } from 'vitest';
import type { FrameSource, OpenedSource } from '../../../src/core/pose/frame-source.ts';
import { SourceOpening } from '../../../src/state/source-opening.ts';

/** A source that tells whether it was given back. */
function source(): FrameSource & { readonly isStopped: () => boolean } {
  const stopping = new AbortController();
  return {
    kind: 'camera',
    label: 'a camera',
    durationSeconds: null,
    feed: { kind: 'live', stream: {} as MediaStream, whenEnded: 'camera-unplugged', framing: null },
    stopping: stopping.signal,
    run: () => Promise.resolve({ kind: 'stopped' }),
    stop: () => stopping.abort(),
    isStopped: () => stopping.signal.aborted,
  };
}

const opened = (of: FrameSource): Promise<OpenedSource> => Promise.resolve({ ok: true, source: of });
const loaded = (): Promise<string | null> => Promise.resolve(null);

describe('opening one source at a time', () => {
  it('hands over what was opened, as long as nothing else is wished', async () => {
    const opening = new SourceOpening();
    const camera = source();
    const found = await opening.open(opened(camera), loaded);
    if (found?.source !== camera) throw new Error('The source was not handed over.');
    expect(found.isLatest()).toBe(true);
    expect(camera.isStopped()).toBe(false);
    opening.forget();
    expect(found.isLatest()).toBe(false);
  });

  it('gives a camera back that comes after another wish', async () => {
    const opening = new SourceOpening();
    const [late, next] = [source(), source()];
    let answer: (opened: OpenedSource) => void = () => undefined;
    const first = opening.open(new Promise((resolve) => (answer = resolve)), loaded);
    const second = opening.open(opened(next), loaded);
    answer({ ok: true, source: late });
    expect(await first).toBeNull();
    expect(late.isStopped()).toBe(true);
    expect((await second)?.source).toBe(next);
    expect(next.isStopped()).toBe(false);
  });

  it('gives a camera back with which nothing can be measured, and says why', async () => {
    const opening = new SourceOpening();
    const camera = source();
    const found = await opening.open(opened(camera), () => Promise.resolve('Not loaded.'));
    expect(found).toEqual({ source: null, sentence: 'Not loaded.' });
    expect(camera.isStopped()).toBe(true);
  });

  it('says why there is no camera', async () => {
    const refused = Promise.resolve({ ok: false, problem: 'no-camera' } as const);
    const found = await new SourceOpening().open(refused, loaded);
    expect(found).toMatchObject({ source: null, sentence: expect.stringMatching(/^No camera was found/) });
  });
});
