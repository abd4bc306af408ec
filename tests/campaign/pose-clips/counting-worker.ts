/** The pose worker, with every video frame that is made in it watched. Imports run first; the worker waits for messages. */
import '../../../src/pose-worker.ts';

/** Told when somebody sends { kind: 'count-frames' }. */
export interface FrameCount {
  readonly kind: 'frame-count';
  readonly made: number;
  /** Made and not closed. */
  readonly open: number;
}

const open = new Set<VideoFrame>();
let made = 0;

function watch(frame: VideoFrame): VideoFrame {
  made += 1;
  open.add(frame);
  return frame;
}

const close = VideoFrame.prototype.close;
VideoFrame.prototype.close = function (this: VideoFrame) {
  open.delete(this);
  close.call(this);
};
const clone = VideoFrame.prototype.clone;
VideoFrame.prototype.clone = function (this: VideoFrame) {
  return watch(clone.call(this));
};
globalThis.VideoFrame = new Proxy(VideoFrame, {
  construct: (target, args, itself) => watch(Reflect.construct(target, args, itself) as VideoFrame),
});
globalThis.VideoDecoder = new Proxy(VideoDecoder, {
  construct: (target, [init]: [VideoDecoderInit], itself) => {
    const output: VideoDecoderInit['output'] = (frame) => init.output(watch(frame));
    return Reflect.construct(target, [{ ...init, output }], itself) as VideoDecoder;
  },
});

self.addEventListener('message', ({ data }: MessageEvent<{ readonly kind: string }>) => {
  if (data.kind !== 'count-frames') return;
  const count: FrameCount = { kind: 'frame-count', made, open: open.size };
  self.postMessage(count);
});
