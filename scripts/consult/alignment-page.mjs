/**
 * Runs in both pages before the app, of which it changes nothing: it notes which picture the patient's camera gave when, which figures came
 * over the line, and what stands on the therapist's canvas. No imports: it is handed over as it stands.
 */
(() => {
  /** @typedef {{ upper: number, lower: number }} Cell */
  const noted = {
    /** @type {{ timeMs: number, cells: Cell[] }[]} */
    camera: [],
    /** @type {{ hereMs: number, text: string }[]} */
    live: [],
    /** @type {{ atMs: number, hereMs: number, cells: Cell[], blobs: { x: number, y: number }[], state: string }[]} */
    canvas: [],
    /** @type {RTCPeerConnection[]} */
    lines: [],
    cells: /** @type {{ x: number, upper: number, lower: number }[]} */ ([]),
  };
  Object.assign(globalThis, { noted });

  const small = new OffscreenCanvas(240, 180);
  const context = /** @type {OffscreenCanvasRenderingContext2D} */ (
    small.getContext('2d', { willReadFrequently: true })
  );

  /** @param {CanvasImageSource} picture */
  function cellsOf(picture) {
    context.drawImage(picture, 0, 0, small.width, small.height);
    const rows = Math.ceil(small.height * 0.1);
    const { data } = context.getImageData(0, 0, small.width, rows);
    /** @param {number} x @param {number} y */
    const at = (x, y) =>
      data[4 * (Math.floor(y * small.height) * small.width + Math.floor(x * small.width)) + 1] ?? 0;
    return noted.cells.map(({ x, upper, lower }) => ({ upper: at(x, upper), lower: at(x, lower) }));
  }

  const { mediaDevices } = navigator;
  const ask = mediaDevices.getUserMedia.bind(mediaDevices);
  mediaDevices.getUserMedia = async (wish) => {
    const stream = await ask(wish);
    const track = stream.getVideoTracks()[0]?.clone();
    if (track !== undefined && noted.cells.length > 0) void watchCamera(track);
    return stream;
  };

  /** @param {MediaStreamTrack} track */
  async function watchCamera(track) {
    const { MediaStreamTrackProcessor: Processor } = window;
    if (Processor === undefined) return;
    const pictures = new Processor({ track, maxBufferSize: 4 }).readable.getReader();
    for (let next = await pictures.read(); !next.done; next = await pictures.read()) {
      noted.camera.push({ timeMs: next.value.timestamp / 1000, cells: cellsOf(next.value) });
      next.value.close();
    }
  }

  const Line = RTCPeerConnection;
  const open = Line.prototype.createDataChannel;
  /** @param {string} label @param {RTCDataChannelInit} [options] @this {RTCPeerConnection} */
  Line.prototype.createDataChannel = function (label, options) {
    if (!noted.lines.includes(this)) noted.lines.push(this);
    const channel = open.call(this, label, options);
    if (label === 'live')
      channel.addEventListener('message', ({ data }) =>
        noted.live.push({ hereMs: performance.now(), text: data }),
      );
    return channel;
  };

  /** Joints are white discs: what is left of pure white when everything thinner than a bone's line is worn away. */
  /** @param {HTMLCanvasElement} canvas */
  function blobsOf(canvas) {
    const { width, height } = canvas;
    const { data } = /** @type {CanvasRenderingContext2D} */ (canvas.getContext('2d')).getImageData(
      0,
      0,
      width,
      height,
    );
    const top = Math.ceil(height * 0.08);
    const isWhite = new Uint8Array(width * height);
    for (let i = top * width; i < isWhite.length; i += 1)
      isWhite[i] = Number(data[4 * i] === 255 && data[4 * i + 1] === 255 && data[4 * i + 2] === 255);
    const wear = Math.round(Math.max(width, height) * 0.0065);
    const isDeep = new Uint8Array(width * height);
    for (let y = top + wear; y < height - wear; y += 1)
      for (let x = wear; x < width - wear; x += 1) {
        const i = y * width + x;
        if (isWhite[i] !== 1) continue;
        let all = 1;
        for (let angle = 0; angle < 16 && all === 1; angle += 1) {
          const dx = Math.round(wear * Math.cos((angle * Math.PI) / 8));
          const dy = Math.round(wear * Math.sin((angle * Math.PI) / 8));
          all = isWhite[i + dy * width + dx] ?? 0;
        }
        isDeep[i] = all;
      }
    const blobs = [];
    for (let i = 0; i < isDeep.length; i += 1) {
      if (isDeep[i] !== 1) continue;
      let [sumX, sumY, count] = [0, 0, 0];
      const stack = [i];
      isDeep[i] = 0;
      while (stack.length > 0) {
        const j = stack.pop() ?? 0;
        sumX += j % width;
        sumY += Math.floor(j / width);
        count += 1;
        for (const k of [j - 1, j + 1, j - width, j + width])
          if (isDeep[k] === 1) {
            isDeep[k] = 0;
            stack.push(k);
          }
      }
      blobs.push({ x: (sumX / count + 0.5) / width, y: (sumY / count + 0.5) / height });
    }
    return blobs;
  }

  /** Notes what stands on the canvas over the patient's picture, some ten times a second. */
  Object.assign(globalThis, {
    watchCanvas() {
      let last = 0;
      const look = () => {
        requestAnimationFrame(look);
        const hereMs = performance.now();
        if (hereMs - last < 100) return;
        last = hereMs;
        const canvas = document.querySelector('.picture canvas');
        if (!(canvas instanceof HTMLCanvasElement) || canvas.width < 400) return;
        const cells = cellsOf(canvas);
        const isPainted = cells.some(({ upper }) => upper > 0);
        const blobs = isPainted ? blobsOf(canvas) : [];
        const state = document.querySelector('.delay')?.textContent ?? '';
        noted.canvas.push({ atMs: performance.timeOrigin + hereMs, hereMs, cells, blobs, state });
        if (isPainted) context.clearRect(0, 0, small.width, small.height);
      };
      requestAnimationFrame(look);
    },
    /** What a canvas shows. @param {string} place */
    stripOf(place) {
      const canvas = document.querySelector(place);
      return canvas instanceof HTMLCanvasElement ? cellsOf(canvas) : [];
    },
    /** @param {number} ms */
    delayPicture(ms) {
      for (const line of noted.lines)
        for (const receiver of line.getReceivers())
          if (receiver.track.kind === 'video') receiver.jitterBufferTarget = ms;
    },
  });
})();
