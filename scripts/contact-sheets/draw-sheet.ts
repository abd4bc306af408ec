/** A frame of a sheet: its time, the landmarks as shares of the picture, and what was said of it. */
export interface SheetFrame {
  readonly timeSeconds: number;
  readonly points: readonly { name: string; x: number; y: number; visibility: number }[];
  readonly words: readonly string[];
}

/**
 * Draws up to twenty frames of a clip on one sheet and gives it as JPEG in base 64. Runs inside the page, so it can
 * use nothing from outside itself.
 */
export async function drawSheet(job: { url: string; frames: readonly SheetFrame[] }): Promise<string> {
  const video = document.createElement('video');
  video.muted = true;
  video.src = job.url;
  await new Promise((done, fail) => {
    video.onloadeddata = done;
    video.onerror = () => fail(new Error('The clip does not play.'));
  });
  const width = 320;
  const height = Math.round((width * video.videoHeight) / video.videoWidth);
  const canvas = document.createElement('canvas');
  canvas.width = width * 5;
  canvas.height = height * Math.ceil(job.frames.length / 5);
  const context = canvas.getContext('2d');
  if (context === null) throw new Error('No canvas.');
  const limbs = [
    ['shoulder', 'elbow'],
    ['elbow', 'wrist'],
    ['wrist', 'index'],
    ['shoulder', 'hip'],
    ['hip', 'knee'],
    ['knee', 'ankle'],
  ];
  for (const [i, frame] of job.frames.entries()) {
    await new Promise((done) => {
      video.onseeked = done;
      video.currentTime = frame.timeSeconds + 0.001;
    });
    const left = (i % 5) * width;
    const top = Math.floor(i / 5) * height;
    context.drawImage(video, left, top, width, height);
    for (const side of ['left', 'right']) {
      const at = (name: string) => frame.points.find((point) => point.name === `${side}_${name}`);
      context.setLineDash(side === 'left' ? [] : [4, 3]);
      for (const [from = '', to = ''] of limbs) {
        const a = at(from);
        const b = at(to);
        if (!a || !b) continue;
        const isSeen = Math.min(a.visibility, b.visibility) >= 0.5;
        context.strokeStyle =
          side === 'left' ? (isSeen ? '#ffe14d' : '#ffe14d66') : isSeen ? '#4df0ff' : '#4df0ff66';
        context.lineWidth = 2;
        context.beginPath();
        context.moveTo(left + a.x * width, top + a.y * height);
        context.lineTo(left + b.x * width, top + b.y * height);
        context.stroke();
      }
    }
    context.setLineDash([]);
    context.font = '13px sans-serif';
    const lines = [`${frame.timeSeconds.toFixed(2)} s`, ...frame.words];
    context.fillStyle = '#000a';
    context.fillRect(left, top, 150, 16 * lines.length + 4);
    context.fillStyle = '#fff';
    lines.forEach((line, k) => context.fillText(line, left + 4, top + 14 + 16 * k));
  }
  return canvas.toDataURL('image/jpeg', 0.85).split(',')[1] ?? '';
}
