/*
 * The little of the ZIP format that a package uses: files stored or deflated, sizes known beforehand, nothing split,
 * nothing over 4 GB (PKWARE APPNOTE 6.3.10, sections 4.3.7, 4.3.12 and 4.3.16; offsets below are from there). Any program
 * for ZIP files opens what is written here.
 */

/** Methods of packing: stored as it is, or deflated (section 4.4.5). */
export const STORED_AS_IS = 0;
export const DEFLATED = 8;

export const LOCAL_SIGNATURE = 0x04034b50;
export const LOCAL_BYTES = 30;
export const CENTRAL_SIGNATURE = 0x02014b50;
export const CENTRAL_BYTES = 46;
export const END_SIGNATURE = 0x06054b50;
export const END_BYTES = 22;

/** One file of a ZIP: how it is called, how it is packed, what comes out. */
export interface ZipEntry {
  readonly path: string;
  readonly method: typeof STORED_AS_IS | typeof DEFLATED;
  readonly crc: number;
  readonly packedBytes: number;
  readonly bytes: number;
  /** Where its local header begins. */
  readonly offset: number;
}
