import { base64Of, bytesOfBase64 } from '../../core/documents/base64.ts';

/** Packs a text for the line: gzip (RFC 1952), which carries a check sum, in base64 (RFC 4648, section 4). */
export async function packParcel(text: string): Promise<string> {
  const packed = new Blob([text]).stream().pipeThrough(new CompressionStream('gzip'));
  return base64Of(new Uint8Array(await new Response(packed).arrayBuffer()));
}

/** The text that was packed; null when it was cut or changed, or would unpack to more than so many bytes. */
export async function unpackParcel(packed: string, mostBytes: number): Promise<string | null> {
  try {
    const opened = new Blob([bytesOfBase64(packed)]).stream().pipeThrough(new DecompressionStream('gzip'));
    const chunks: BlobPart[] = [];
    let bytes = 0;
    for (const reader = opened.getReader(); ;) {
      const { done, value } = await reader.read();
      if (done) break;
      bytes += value.byteLength;
      // It is noticed before it fills memory.
      if (bytes > mostBytes) return null;
      chunks.push(value);
    }
    return await new Blob(chunks).text();
  } catch {
    return null;
  }
}
