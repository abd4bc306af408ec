import { deflateSync, strToU8 } from 'fflate';
import { crc32 } from '../documents/crc32.ts';
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

/** Version 2.0 of the format is needed for deflate (section 4.4.3); bit 11 says that names are in UTF-8 (4.4.4). */
const NEEDS_VERSION = 20;
const NAMES_IN_UTF8 = 1 << 11;
/** 1 January 1980, because the time of a file says nothing that its content does not (4.4.6). */
const NO_DATE = 0x0021;

/** Writes a ZIP part by part, so that a large one never stands in memory as a whole. */
export class ZipWriting {
  readonly #entries: ZipEntry[] = [];
  #offset = 0;

  /** The bytes of one more file. Videos are packed already and are stored as they are. */
  add(path: string, content: Uint8Array, how: 'deflate' | 'store'): Uint8Array<ArrayBuffer>[] {
    const packed = how === 'deflate' ? deflateSync(content, { level: 6 }) : content;
    const entry: ZipEntry = {
      path,
      method: how === 'deflate' ? DEFLATED : STORED_AS_IS,
      crc: crc32(content),
      packedBytes: packed.length,
      bytes: content.length,
      offset: this.#offset,
    };
    this.#entries.push(entry);
    const header = headerOf(entry);
    this.#offset += header.length + packed.length;
    return [header, new Uint8Array(packed)];
  }

  /** The list of files that ends a ZIP. */
  end(): Uint8Array<ArrayBuffer>[] {
    const list = this.#entries.map(listedEntry);
    const bytes = list.reduce((sum, { length }) => sum + length, 0);
    const end = new DataView(new ArrayBuffer(END_BYTES));
    end.setUint32(0, END_SIGNATURE, true);
    end.setUint16(8, this.#entries.length, true);
    end.setUint16(10, this.#entries.length, true);
    end.setUint32(12, bytes, true);
    end.setUint32(16, this.#offset, true);
    return [...list, new Uint8Array(end.buffer)];
  }
}

function headerOf(entry: ZipEntry): Uint8Array<ArrayBuffer> {
  const name = strToU8(entry.path);
  const header = new DataView(new ArrayBuffer(LOCAL_BYTES + name.length));
  header.setUint32(0, LOCAL_SIGNATURE, true);
  common(header, 4, entry, name.length);
  const bytes = new Uint8Array(header.buffer);
  bytes.set(name, LOCAL_BYTES);
  return bytes;
}

function listedEntry(entry: ZipEntry): Uint8Array<ArrayBuffer> {
  const name = strToU8(entry.path);
  const listed = new DataView(new ArrayBuffer(CENTRAL_BYTES + name.length));
  listed.setUint32(0, CENTRAL_SIGNATURE, true);
  listed.setUint16(4, NEEDS_VERSION, true);
  common(listed, 6, entry, name.length);
  listed.setUint32(42, entry.offset, true);
  const bytes = new Uint8Array(listed.buffer);
  bytes.set(name, CENTRAL_BYTES);
  return bytes;
}

/** What local header and list have in common, in the same order. */
function common(view: DataView, at: number, entry: ZipEntry, nameBytes: number): void {
  view.setUint16(at, NEEDS_VERSION, true);
  view.setUint16(at + 2, NAMES_IN_UTF8, true);
  view.setUint16(at + 4, entry.method, true);
  view.setUint16(at + 8, NO_DATE, true);
  view.setUint32(at + 10, entry.crc, true);
  view.setUint32(at + 14, entry.packedBytes, true);
  view.setUint32(at + 18, entry.bytes, true);
  view.setUint16(at + 22, nameBytes, true);
}
