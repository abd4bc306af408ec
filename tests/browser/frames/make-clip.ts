import {
  ALL_FORMATS,
  AudioBufferSource,
  BlobSource,
  BufferTarget,
  CanvasSource,
  Conversion,
  Input,
  Mp4OutputFormat,
  MovOutputFormat,
  Output,
  type OutputFormat,
  WebMOutputFormat,
} from 'mediabunny';

/** A clip to be made in the page: its container, the time of every picture, and how the file says it is turned. */
export interface ClipPlan {
  readonly container: 'mp4' | 'mov' | 'webm';
  readonly timesSeconds: readonly number[];
  readonly width: number;
  readonly height: number;
  readonly rotation?: 0 | 90 | 180 | 270;
  readonly withSound?: boolean;
  /** Grey level of every picture, 0 to 255; the top left quarter is always red. */
  readonly grey?: number;
}

const FORMATS: Readonly<Record<ClipPlan['container'], () => OutputFormat>> = {
  mp4: () => new Mp4OutputFormat({ fastStart: 'in-memory' }),
  mov: () => new MovOutputFormat({ fastStart: 'in-memory' }),
  webm: () => new WebMOutputFormat(),
};

/** Encodes a clip with the browser's own encoder: pictures with a red top left quarter, before any rotation. */
export async function makeClip(plan: ClipPlan): Promise<Uint8Array> {
  const { container, timesSeconds, width, height, rotation = 0, withSound = false, grey = 200 } = plan;
  const target = new BufferTarget();
  const output = new Output({ format: FORMATS[container](), target });
  const canvas = new OffscreenCanvas(width, height);
  const context = canvas.getContext('2d');
  if (context === null) throw new Error('no canvas');
  const video = new CanvasSource(canvas, { codec: container === 'webm' ? 'vp8' : 'avc', bitrate: 500_000 });
  output.addVideoTrack(video, { rotation });
  const audio = withSound ? soundTrack(output) : null;
  await output.start();
  for (const [index, time] of timesSeconds.entries()) {
    context.fillStyle = `rgb(${String(grey)} ${String(grey)} ${String(grey)})`;
    context.fillRect(0, 0, width, height);
    context.fillStyle = 'red';
    context.fillRect(0, 0, width / 2, height / 2);
    const next = timesSeconds[index + 1];
    await video.add(time, next === undefined ? 0.04 : next - time);
  }
  if (audio !== null) await audio.add(silence());
  await output.finalize();
  return bytesOf(target);
}

/** A file of sound only. */
export async function makeSound(): Promise<Uint8Array> {
  const target = new BufferTarget();
  const output = new Output({ format: new Mp4OutputFormat(), target });
  const audio = soundTrack(output);
  await output.start();
  await audio.add(silence());
  await output.finalize();
  return bytesOf(target);
}

/** The first seconds of a clip, as MP4. */
export async function cutClip(url: string, seconds: number): Promise<Uint8Array> {
  const blob = await (await fetch(url)).blob();
  const target = new BufferTarget();
  const conversion = await Conversion.init({
    input: new Input({ formats: ALL_FORMATS, source: new BlobSource(blob) }),
    output: new Output({ format: new Mp4OutputFormat(), target }),
    trim: { start: 0, end: seconds },
  });
  await conversion.execute();
  return bytesOf(target);
}

function soundTrack(output: Output): AudioBufferSource {
  const audio = new AudioBufferSource({ codec: 'opus', bitrate: 32_000 });
  output.addAudioTrack(audio);
  return audio;
}

function silence(): AudioBuffer {
  return new AudioBuffer({ length: 48_000, sampleRate: 48_000, numberOfChannels: 1 });
}

function bytesOf(target: BufferTarget): Uint8Array {
  if (target.buffer === null) throw new Error('nothing was written');
  return new Uint8Array(target.buffer);
}
