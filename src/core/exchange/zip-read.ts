import { Inflate, strFromU8 } from 'fflate';
import { crc32 } from '../documents/crc32.ts';
import type { PackageLimits } from './limits.ts';
import { PackageRefused } from './package-problem.ts';
import {
  CENTRAL_BYTES,
  CENTRAL_SIGNATURE,
  DEFLATED,
  END_BYTES,
  END_SIGNATURE,
  LOCAL_BYTES,
  LOCAL_SIGNATURE,
  STORED_AS_IS,
  type ZipEntry,
} from './zip-format.ts';

/** So little is unpacked at a time that what comes out of it stays small (deflate makes at most 1032 bytes of one). */
const PIECE_BYTES = 16_384;

/**
 * The files that a ZIP lists, in its order. Rejects with PackageRefused for what is no ZIP that this project writes: more
 * files or bytes than the limits, files that overlap, lie outside or are called alike.
 */
export async function listZip(zip: Blob, limits: PackageLimits): Promise<ZipEntry[]> {
  if (zip.size > limits.fileBytes) throw new PackageRefused({ kind: 'too-large' });
  const end = await viewOf(zip, zip.size - END_BYTES, END_BYTES);
  // A ZIP with a comment behind its end is not one of ours.
  if (end?.getUint32(0, true) !== END_SIGNATURE) throw new PackageRefused({ kind: 'cut-or-changed' });
  const count = end.getUint16(10, true);
  const listBytes = end.getUint32(12, true);
  const listAt = end.getUint32(16, true);
  if (count > limits.entries || listBytes > limits.manifestBytes)
    throw new PackageRefused({ kind: 'too-large' });
  if (listAt + listBytes + END_BYTES !== zip.size) throw new PackageRefused({ kind: 'cut-or-changed' });
  const list = await viewOf(zip, listAt, listBytes);
  const entries = list === null ? [] : entriesOf(list, count);
  check(entries, listAt, limits);
  return entries;
}

function entriesOf(list: DataView<ArrayBuffer>, count: number): ZipEntry[] {
  const entries: ZipEntry[] = [];
  let at = 0;
  while (entries.length < count) {
    if (at + CENTRAL_BYTES > list.byteLength || list.getUint32(at, true) !== CENTRAL_SIGNATURE)
      throw new PackageRefused({ kind: 'cut-or-changed' });
    const nameBytes = list.getUint16(at + 28, true);
    const next =
      at + CENTRAL_BYTES + nameBytes + list.getUint16(at + 30, true) + list.getUint16(at + 32, true);
    if (next > list.byteLength) throw new PackageRefused({ kind: 'cut-or-changed' });
    const path = strFromU8(new Uint8Array(list.buffer, at + CENTRAL_BYTES, nameBytes));
    const method = list.getUint16(at + 10, true);
    if (method !== STORED_AS_IS && method !== DEFLATED) throw new PackageRefused({ kind: 'damaged', path });
    entries.push({
      path,
      method,
      crc: list.getUint32(at + 16, true),
      packedBytes: list.getUint32(at + 20, true),
      bytes: list.getUint32(at + 24, true),
      offset: list.getUint32(at + 42, true),
    });
    at = next;
  }
  return entries;
}

function check(entries: readonly ZipEntry[], listAt: number, limits: PackageLimits): void {
  let total = 0;
  let free = 0;
  const paths = new Set<string>();
  for (const { path, offset, packedBytes, bytes } of [...entries].sort((a, b) => a.offset - b.offset)) {
    total += bytes;
    if (total > limits.fileBytes) throw new PackageRefused({ kind: 'too-large' });
    // Files that share bytes are how a small ZIP unpacks to a huge one.
    const ends = offset + LOCAL_BYTES + packedBytes;
    if (offset < free || ends > listAt || paths.has(path))
      throw new PackageRefused({ kind: 'damaged', path });
    free = ends;
    paths.add(path);
  }
}

/**
 * What a file of the ZIP holds, unpacked. Rejects with PackageRefused when it is more than its list says or than
 * mostBytes, or when its check sum does not fit.
 */
export async function unpackEntry(
  zip: Blob,
  entry: ZipEntry,
  mostBytes: number,
): Promise<Uint8Array<ArrayBuffer>> {
  if (entry.bytes > mostBytes) throw new PackageRefused({ kind: 'too-large' });
  const packed = new Uint8Array(await (await packedBytesOf(zip, entry)).arrayBuffer());
  const content = entry.method === DEFLATED ? inflated(packed, entry) : packed;
  if (content.length !== entry.bytes || crc32(content) !== entry.crc)
    throw new PackageRefused({ kind: 'damaged', path: entry.path });
  return content;
}

/** A stored file as a part of the ZIP, without reading it. Null for one that is packed. */
export async function storedEntry(zip: Blob, entry: ZipEntry): Promise<Blob | null> {
  if (entry.method !== STORED_AS_IS || entry.bytes !== entry.packedBytes) return null;
  return packedBytesOf(zip, entry);
}

async function packedBytesOf(zip: Blob, { path, offset, packedBytes }: ZipEntry): Promise<Blob> {
  const header = await viewOf(zip, offset, LOCAL_BYTES);
  if (header?.getUint32(0, true) !== LOCAL_SIGNATURE) throw new PackageRefused({ kind: 'damaged', path });
  const from = offset + LOCAL_BYTES + header.getUint16(26, true) + header.getUint16(28, true);
  if (from + packedBytes > zip.size) throw new PackageRefused({ kind: 'damaged', path });
  return zip.slice(from, from + packedBytes);
}

/** Unpacked piece by piece, so that more than the list says is noticed before it fills memory. */
function inflated(packed: Uint8Array, { path, bytes }: ZipEntry): Uint8Array<ArrayBuffer> {
  const content = new Uint8Array(bytes);
  let length = 0;
  const inflate = new Inflate((chunk) => {
    if (length + chunk.length > bytes) throw new PackageRefused({ kind: 'too-large' });
    content.set(chunk, length);
    length += chunk.length;
  });
  try {
    for (let start = 0; start < packed.length; start += PIECE_BYTES)
      inflate.push(packed.subarray(start, start + PIECE_BYTES), start + PIECE_BYTES >= packed.length);
  } catch (error) {
    if (error instanceof PackageRefused) throw error;
    // The library throws on what is no deflate stream, or one that was cut.
    throw new PackageRefused({ kind: 'damaged', path });
  }
  return content.subarray(0, length);
}

async function viewOf(blob: Blob, from: number, bytes: number): Promise<DataView<ArrayBuffer> | null> {
  if (from < 0 || from + bytes > blob.size) return null;
  return new DataView(await blob.slice(from, from + bytes).arrayBuffer());
}
