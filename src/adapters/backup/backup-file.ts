import { MOST_LINE_CHARACTERS } from '../../core/backup/backup-lines.ts';
import { BackupRefused } from '../../core/backup/take-in-backup.ts';

/** Characters that are packed at once. */
const PACK_CHARACTERS = 1 << 18;

/**
 * A file of lines, packed by gzip (RFC 1952), whose check sum finds every changed byte. The browser keeps it in parts and
 * not in the page's memory. Rejects when the lines do.
 */
export async function packLines(lines: AsyncIterable<string>): Promise<Blob> {
  const iterator = lines[Symbol.asyncIterator]();
  const text = new ReadableStream<string>({
    async pull(controller) {
      let gathered = '';
      while (gathered.length < PACK_CHARACTERS) {
        const next = await iterator.next();
        if (next.done === true) {
          if (gathered !== '') controller.enqueue(gathered);
          controller.close();
          return;
        }
        gathered += `${next.value}\n`;
      }
      controller.enqueue(gathered);
    },
    async cancel() {
      await iterator.return?.(undefined);
    },
  });
  const packed = text.pipeThrough(new TextEncoderStream()).pipeThrough(new CompressionStream('gzip'));
  const blob = await new Response(packed).blob();
  return new Blob([blob], { type: 'application/gzip' });
}

/**
 * The lines of a packed file, one at a time. Rejects with BackupRefused where it is not packed, a check sum does not fit, or
 * a line is far too long.
 */
export async function* unpackLines(file: Blob): AsyncGenerator<string> {
  const head = new Uint8Array(await file.slice(0, 2).arrayBuffer());
  if (head[0] !== 0x1f || head[1] !== 0x8b) throw new BackupRefused({ kind: 'not-ours' });
  const reader = file
    .stream()
    .pipeThrough(new DecompressionStream('gzip'))
    .pipeThrough(new TextDecoderStream('utf-8', { fatal: true }))
    .getReader();
  let parts: string[] = [];
  let length = 0;
  try {
    for (;;) {
      const { done, value } = await read(reader);
      if (done) break;
      const pieces = value.split('\n');
      for (const [index, piece] of pieces.entries()) {
        length += piece.length;
        if (length > MOST_LINE_CHARACTERS) throw new BackupRefused({ kind: 'too-long' });
        parts.push(piece);
        if (index === pieces.length - 1) continue;
        yield parts.join('');
        parts = [];
        length = 0;
      }
    }
    // Every line was written with its end.
    if (length > 0) throw new BackupRefused({ kind: 'cut-or-changed' });
  } finally {
    await reader.cancel().catch(() => undefined);
  }
}

async function read(
  reader: ReadableStreamDefaultReader<string>,
): Promise<{ done: false; value: string } | { done: true; value?: undefined }> {
  try {
    const { done, value } = await reader.read();
    return done ? { done } : { done, value };
  } catch {
    // Both the unpacking and the reading of text end with a TypeError for bytes that are not what was written.
    throw new BackupRefused({ kind: 'cut-or-changed' });
  }
}
