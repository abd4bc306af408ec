import { openCamera } from '../../../src/adapters/frames/camera-source.ts';
import { openClip } from '../../../src/adapters/frames/clip-source.ts';
import { listCameras } from '../../../src/adapters/frames/list-cameras.ts';
import { openSharedWindow } from '../../../src/adapters/frames/shared-window-source.ts';
import type { CameraChoice } from '../../../src/core/session/source-opener.ts';
import type {
  OpenedSource,
  SourceEnd,
  SourcePicture,
  SourceProblem,
} from '../../../src/core/pose/frame-source.ts';
import { type ClipPlan, cutClip, makeClip, makeSound } from './make-clip.ts';

/** What came out of a clip, as plain data. */
export interface Played {
  readonly problem: SourceProblem | null;
  readonly end: SourceEnd | null;
  readonly durationSeconds: number | null;
  readonly timesSeconds: readonly number[];
  readonly size: readonly [number, number] | null;
  /** Red, green and blue at an eighth and seven eighths of the first picture, by corner. */
  readonly corners: Readonly<
    Record<'topLeft' | 'topRight' | 'bottomRight' | 'bottomLeft', readonly number[]>
  > | null;
  readonly brightness: readonly (number | null)[];
}

/** How a live source is played: until so many pictures, with a consumer that is so slow, with what going wrong. */
interface LivePlay {
  readonly pictures: number;
  readonly busyMs?: number;
  /** As in browsers that cannot read a track directly. */
  readonly withoutTrackProcessor?: boolean;
  /** After so many pictures the device goes away. */
  readonly unplugAfter?: number;
}

/** What tests call in the page; bytes cross over as base64. */
interface FramesPage {
  makeClip(plan: ClipPlan): Promise<string>;
  makeSound(): Promise<string>;
  cutClip(url: string, seconds: number): Promise<string>;
  playClip(base64: string, stopAfter: number): Promise<Played>;
  listCameras(): Promise<readonly CameraChoice[]>;
  playCamera(id: string | null, how: LivePlay): Promise<Played>;
  playSharedWindow(how: LivePlay): Promise<Played>;
  /** States of a camera's tracks after its source was stopped. */
  tracksAfterStop(): Promise<readonly string[]>;
}

declare global {
  interface Window {
    framesPage: FramesPage;
  }
}

async function playClip(base64: string, stopAfter: number): Promise<Played> {
  const blob = await (await fetch(`data:video/mp4;base64,${base64}`)).blob();
  // Slower than the decoder: a source that queued or dropped would show.
  return play(await openClip(blob, { kind: 'clip', label: 'clip' }), { pictures: stopAfter, busyMs: 5 });
}

/** Streams that the page was given, so that a test can take the device away. */
const streams: MediaStream[] = [];

function keepStreams(): void {
  const devices = navigator.mediaDevices;
  const getUserMedia = devices.getUserMedia.bind(devices);
  devices.getUserMedia = async (asked) => kept(await getUserMedia(asked));
  const getDisplayMedia = devices.getDisplayMedia.bind(devices);
  devices.getDisplayMedia = async (asked) => kept(await getDisplayMedia(asked));
}

function kept(stream: MediaStream): MediaStream {
  streams.push(stream);
  return stream;
}

/** What the page sees when a device goes away: the track has ended, and says so. */
function unplug(): void {
  for (const track of streams.flatMap((stream) => stream.getTracks())) {
    track.stop();
    track.dispatchEvent(new Event('ended'));
  }
}

async function playLive(open: () => Promise<OpenedSource>, how: LivePlay): Promise<Played> {
  const Processor = window.MediaStreamTrackProcessor;
  if (how.withoutTrackProcessor === true) delete window.MediaStreamTrackProcessor;
  try {
    return await play(await open(), how);
  } finally {
    if (Processor !== undefined) window.MediaStreamTrackProcessor = Processor;
  }
}

async function play(opened: OpenedSource, { pictures, busyMs, unplugAfter }: LivePlay): Promise<Played> {
  const timesSeconds: number[] = [];
  const brightness: (number | null)[] = [];
  const problem = opened.ok ? null : opened.problem;
  const nothing = {
    problem,
    end: null,
    durationSeconds: null,
    timesSeconds,
    size: null,
    corners: null,
    brightness,
  };
  if (!opened.ok) return nothing;
  const { source } = opened;
  let seen: Pick<Played, 'size' | 'corners'> | null = null;
  const end = await source.run(async (picture) => {
    timesSeconds.push(picture.timeSeconds);
    brightness.push(picture.brightness);
    seen ??= look(picture);
    if (timesSeconds.length >= pictures) source.stop();
    if (timesSeconds.length === unplugAfter) unplug();
    if (busyMs !== undefined) await new Promise((resolve) => setTimeout(resolve, busyMs));
  });
  return { ...nothing, ...(seen ?? {}), end, durationSeconds: source.durationSeconds };
}

function look({ picture, widthPx, heightPx }: SourcePicture): Pick<Played, 'size' | 'corners'> {
  const copy = new OffscreenCanvas(widthPx, heightPx).getContext('2d');
  if (copy === null) throw new Error('no canvas');
  copy.drawImage(picture, 0, 0);
  const [near, far] = [1 / 8, 7 / 8];
  const at = (x: number, y: number) => [
    ...copy.getImageData(x * widthPx, y * heightPx, 1, 1).data.slice(0, 3),
  ];
  return {
    size: [widthPx, heightPx],
    corners: {
      topLeft: at(near, near),
      topRight: at(far, near),
      bottomRight: at(far, far),
      bottomLeft: at(near, far),
    },
  };
}

async function tracksAfterStop(): Promise<readonly string[]> {
  await play(await openCamera(null), { pictures: 2 });
  return (
    streams
      .at(-1)
      ?.getTracks()
      .map(({ readyState }) => readyState) ?? []
  );
}

function toBase64(bytes: Uint8Array): string {
  let text = '';
  for (const byte of bytes) text += String.fromCharCode(byte);
  return btoa(text);
}

window.framesPage = {
  makeClip: async (plan) => toBase64(await makeClip(plan)),
  makeSound: async () => toBase64(await makeSound()),
  cutClip: async (url, seconds) => toBase64(await cutClip(url, seconds)),
  playClip,
  listCameras,
  playCamera: (id, how) => playLive(() => openCamera(id), how),
  playSharedWindow: (how) => playLive(openSharedWindow, how),
  tracksAfterStop,
};
keepStreams();
