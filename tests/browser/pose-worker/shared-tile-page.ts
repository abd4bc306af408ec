import { openSharedWindow } from '../../../src/adapters/frames/shared-window-source.ts';
import { openPoseWorkerService } from '../../../src/adapters/pose-worker/pose-worker-service.ts';
import type { FrameSource, SourceEnd } from '../../../src/core/pose/frame-source.ts';
import type { PoseService, SeenPicture } from '../../../src/core/pose/pose-service.ts';
import type { PictureTile } from '../../../src/core/pose/picture-tile.ts';

/** What stands in the shared window: two tiles side by side, the treated person's on the right or alone. */
export type Shown = 'both' | 'both, hers in a mirror' | 'alone';

interface SharedTilePage {
  open(): Promise<void>;
  /** Shares a window and measures it, of a tile only that. */
  share(shows: Shown, tile: PictureTile | null): Promise<void>;
  frame(tile: PictureTile | null): void;
  /** What is seen from now on, until there are so many pictures or seconds. */
  see(pictures: number, seconds: number): Promise<readonly SeenPicture[]>;
  /** Only what lies beside the tile changes from now on. */
  freeze(isFrozen: boolean): void;
  /** The window gets another size. */
  resize(width: number, height: number): void;
  /** Sharing is ended as by the browser's own bar; gives how the run ended. */
  endByBar(): Promise<SourceEnd>;
  stop(): Promise<SourceEnd>;
}

declare global {
  interface Window {
    sharedTilePage: SharedTilePage;
  }
}

const TILE = { width: 640, height: 480 };
const people: ImageBitmap[] = [];
const canvas = document.createElement('canvas');
let shows: Shown = 'both';
let isFrozen = false;
let count = 0;
let service: PoseService | null = null;
let source: FrameSource | null = null;
let ended: Promise<SourceEnd> | null = null;
let track: MediaStreamTrack | null = null;
let take: (seen: SeenPicture) => void = () => undefined;

async function personIn(clip: string, atSeconds: number): Promise<ImageBitmap> {
  const video = document.createElement('video');
  video.muted = true;
  video.src = URL.createObjectURL(await (await fetch(`/demo-clips/${clip}.mp4`)).blob());
  video.currentTime = atSeconds;
  await new Promise((resolve) => video.addEventListener('seeked', resolve, { once: true }));
  return createImageBitmap(video);
}

function draw(): void {
  const pen = canvas.getContext('2d');
  const [hers, other] = people;
  if (pen === null || hers === undefined || other === undefined) throw new Error('open() first');
  count += 1;
  const left = shows === 'alone' ? 0 : TILE.width;
  if (left > 0) pen.drawImage(other, 0, 0);
  pen.save();
  pen.translate(left, 0);
  if (shows === 'both, hers in a mirror') pen.transform(-1, 0, 0, 1, TILE.width, 0);
  pen.drawImage(hers, 0, 0);
  pen.restore();
  // A lamp that flickers: in the other tile always, in hers unless her picture stands still.
  pen.fillStyle = count % 2 === 0 ? '#404040' : '#c0c0c0';
  if (left > 0) pen.fillRect(8, 8, 32, 32);
  if (!isFrozen) pen.fillRect(left + TILE.width / 2 - 8, 8, 16, 16);
}

async function share(what: Shown, tile: PictureTile | null): Promise<void> {
  shows = what;
  Object.assign(canvas, { width: what === 'alone' ? TILE.width : 2 * TILE.width, height: TILE.height });
  draw();
  navigator.mediaDevices.getDisplayMedia = () => Promise.resolve(canvas.captureStream(30));
  const opened = await openSharedWindow();
  if (!opened.ok || service === null) throw new Error('not opened');
  source = opened.source;
  if (source.feed.kind !== 'live') throw new Error('not live');
  [track = null] = source.feed.stream.getVideoTracks();
  source.feed.framing?.frame(tile);
  const options = { side: 'right', clipRateHz: null, liveStepSeconds: 0 } as const;
  ended = service.run(source, options, (seen) => take(seen));
}

function see(pictures: number, seconds: number): Promise<readonly SeenPicture[]> {
  const seen: SeenPicture[] = [];
  return new Promise((resolve) => {
    const done = (): void => {
      clearTimeout(timer);
      take = () => undefined;
      resolve(seen);
    };
    const timer = setTimeout(done, seconds * 1000);
    take = (one) => {
      seen.push(one);
      if (seen.length >= pictures) done();
    };
  });
}

function ending(): Promise<SourceEnd> {
  if (ended === null) throw new Error('share() first');
  return ended;
}

window.sharedTilePage = {
  async open() {
    people.push(await personIn('hold-drift', 5), await personIn('free-curl-mirror', 9));
    service = await openPoseWorkerService(
      {
        spawn: () => new Worker(new URL('../../../src/pose-worker.ts', import.meta.url), { type: 'module' }),
        modelBase: '/models/',
        backend: 'cpu',
        workers: 1,
      },
      'lite',
      () => undefined,
    );
    setInterval(draw, 40);
  },
  share,
  frame(tile) {
    if (source?.feed.kind === 'live') source.feed.framing?.frame(tile);
  },
  see,
  freeze(frozen) {
    isFrozen = frozen;
  },
  resize(width, height) {
    Object.assign(canvas, { width, height });
  },
  endByBar() {
    track?.stop();
    track?.dispatchEvent(new Event('ended'));
    return ending();
  },
  stop() {
    source?.stop();
    return ending();
  },
};
