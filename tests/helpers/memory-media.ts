import type { FrameSource } from '../../src/core/pose/frame-source.ts';

/** A track of a process without a browser: it is there and can be ended, it has no pictures. */
function memoryTrack(): MediaStreamVideoTrack {
  let readyState: MediaStreamTrackState = 'live';
  const track: MediaStreamVideoTrack = Object.assign(new EventTarget(), {
    contentHint: '',
    enabled: true,
    id: String(Math.random()),
    kind: 'video' as const,
    label: 'camera',
    muted: false,
    onended: null,
    onmute: null,
    onunmute: null,
    readyState,
    applyConstraints: () => Promise.resolve(),
    clone: () => memoryTrack(),
    getCapabilities: () => ({}),
    getConstraints: () => ({}),
    getSettings: () => ({}),
    stop: () => {
      readyState = 'ended';
      Object.assign(track, { readyState });
    },
  });
  return track;
}

/** A stream of one such track. */
export function memoryStream(): MediaStream {
  const track = memoryTrack();
  return Object.assign(new EventTarget(), {
    active: true,
    id: track.id,
    onaddtrack: null,
    onremovetrack: null,
    addTrack: () => undefined,
    removeTrack: () => undefined,
    clone: () => memoryStream(),
    getAudioTracks: () => [],
    getTracks: () => [track],
    getTrackById: () => track,
    getVideoTracks: () => [track],
  });
}

/** A live source over a stream, whose pictures somebody else gives. */
export function memorySource(stream: MediaStream, kind: 'camera' | 'shared-window'): FrameSource {
  const stopping = new AbortController();
  return {
    kind,
    label: kind === 'camera' ? 'camera' : 'picture received in a consult',
    durationSeconds: null,
    feed: { kind: 'live', stream, whenEnded: 'camera-unplugged', framing: null },
    stopping: stopping.signal,
    run: () => Promise.reject(new Error('memorySource: the pictures are given by the pose service.')),
    stop() {
      stopping.abort();
      for (const track of stream.getTracks()) track.stop();
    },
  };
}
