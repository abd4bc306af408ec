import { deflateSync, Inflate, strFromU8, strToU8 } from 'fflate';
import { base64Of, bytesOfBase64 } from './base64.ts';
import { crc32 } from './crc32.ts';
import type { Reading } from './read-document.ts';

const CHECK_BYTES = 4;
/** So little is unpacked at a time that what comes out of it stays small (deflate makes at most 1032 bytes of one). */
const PIECE_BYTES = 64;

/** How a text was packed, and how much may come out of it. */
interface Packing {
  /** The usual words of such a text, the same when packing and unpacking. */
  readonly dictionary: Uint8Array;
  readonly mostBytes: number;
}

/**
 * A text for links, codes and messages that are passed on by hand: packed with deflate (RFC 1951) against its usual words,
 * with a check sum before it, in the alphabet of RFC 4648, section 5.
 */
export function packText(text: string, dictionary: Uint8Array): string {
  const bytes = strToU8(text);
  const packed = deflateSync(bytes, { level: 9, dictionary });
  const whole = new Uint8Array(CHECK_BYTES + packed.length);
  new DataView(whole.buffer).setUint32(0, crc32(bytes));
  whole.set(packed, CHECK_BYTES);
  return toBase64Url(whole);
}

/** The text that was packed. One with a character changed, or that unpacks to more than is allowed, is refused. */
export function unpackText(packed: string, packing: Packing): Reading<string, 'damaged' | 'too-long'> {
  const bytes = fromBase64Url(packed);
  if (bytes === null || bytes.length <= CHECK_BYTES) return { ok: false, problem: 'damaged' };
  const text = unpacked(bytes.subarray(CHECK_BYTES), packing);
  if (typeof text === 'string') return { ok: false, problem: text };
  const check = new DataView(bytes.buffer, bytes.byteOffset).getUint32(0);
  return crc32(text) === check ? { ok: true, value: strFromU8(text) } : { ok: false, problem: 'damaged' };
}

/** What was packed, piece by piece, so that a text that unpacks to far more than is allowed is noticed before it fills memory. */
function unpacked(
  packed: Uint8Array,
  { dictionary, mostBytes }: Packing,
): Uint8Array | 'too-long' | 'damaged' {
  const chunks: Uint8Array[] = [];
  let length = 0;
  const inflate = new Inflate({ dictionary }, (chunk) => {
    chunks.push(chunk);
    length += chunk.length;
  });
  try {
    for (let start = 0; start < packed.length; start += PIECE_BYTES) {
      inflate.push(packed.subarray(start, start + PIECE_BYTES), start + PIECE_BYTES >= packed.length);
      if (length > mostBytes) return 'too-long';
    }
  } catch {
    // The library throws on what is no deflate stream, or one that was cut.
    return 'damaged';
  }
  const whole = new Uint8Array(length);
  let at = 0;
  for (const chunk of chunks) {
    whole.set(chunk, at);
    at += chunk.length;
  }
  return whole;
}

function toBase64Url(bytes: Uint8Array): string {
  return base64Of(bytes).replaceAll('+', '-').replaceAll('/', '_').replaceAll('=', '');
}

function fromBase64Url(text: string): Uint8Array<ArrayBuffer> | null {
  if (!/^[A-Za-z0-9_-]*$/.test(text) || text.length % 4 === 1) return null;
  return bytesOfBase64(text.replaceAll('-', '+').replaceAll('_', '/'));
}
