/** The reversed polynomial of CRC-32 (RFC 1952, section 8). */
const POLYNOMIAL = 0xedb88320;

/** What each byte adds, worked out once: a package with videos has hundreds of millions of them. */
const OF_BYTE = Uint32Array.from({ length: 256 }, (_, byte) => {
  let rest = byte;
  for (let bit = 0; bit < 8; bit++) rest = (rest >>> 1) ^ (rest & 1 ? POLYNOMIAL : 0);
  return rest;
});

/** CRC-32 of bytes, 0 to 2^32 - 1, as in RFC 1952: finds a character that was changed or lost. */
export function crc32(bytes: Uint8Array): number {
  let rest = 0xffffffff;
  for (const byte of bytes) rest = (rest >>> 8) ^ (OF_BYTE[(rest ^ byte) & 0xff] ?? 0);
  return ~rest >>> 0;
}
