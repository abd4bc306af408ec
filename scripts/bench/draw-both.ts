import type { Pose } from '../../src/core/pose/pose-frame.ts';

/** A picture and what the two saw in it. */
interface BothOnPicture {
  /** JPEG as base64. */
  readonly jpeg: string;
  readonly ours: Pose | null;
  readonly theirs: Pose | null;
}

/**
 * Draws both poses on their picture: ours in full lines, the library's dashed; left limbs lighter than right ones. Runs in
 * the page, so it uses nothing from outside. Gives a JPEG as base64.
 */
export async function drawBoth({ jpeg, ours, theirs }: BothOnPicture): Promise<string> {
  const bytes = Uint8Array.from(atob(jpeg), (character) => character.charCodeAt(0));
  const picture = await createImageBitmap(new Blob([bytes], { type: 'image/jpeg' }));
  const canvas = new OffscreenCanvas(picture.width, picture.height);
  const context = canvas.getContext('2d');
  if (context === null) throw new Error('drawBoth: no canvas.');
  context.drawImage(picture, 0, 0);
  const limbs = [
    [11, 13, 15, 19],
    [12, 14, 16, 20],
    [11, 23, 25, 27],
    [12, 24, 26, 28],
  ];
  for (const [pose, dash, hue] of [
    [ours, [], 160],
    [theirs, [9, 7], 35],
  ] as const) {
    if (pose === null) continue;
    context.setLineDash(dash);
    context.lineWidth = 3;
    for (const limb of limbs) {
      context.strokeStyle = `hsl(${String(hue)} 90% ${(limb[0] ?? 0) % 2 === 1 ? '70%' : '45%'})`;
      context.beginPath();
      for (const index of limb) {
        const point = pose.image[index];
        if (point !== undefined) context.lineTo(point.x, point.y);
      }
      context.stroke();
    }
  }
  const drawn = new Uint8Array(await (await canvas.convertToBlob({ type: 'image/jpeg' })).arrayBuffer());
  let text = '';
  for (const byte of drawn) text += String.fromCharCode(byte);
  return btoa(text);
}
