/** The reversed polynomial of CRC-32 (RFC 1952, section 8). */
const POLYNOMIAL = 0xedb88320;

/** CRC-32 of bytes, 0 to 2^32 - 1, as in RFC 1952: finds a character of a link that was changed or lost. */
export function crc32(bytes: Uint8Array): number {
  let rest = 0xffffffff;
  for (const byte of bytes) {
    rest ^= byte;
    for (let bit = 0; bit < 8; bit++) rest = (rest >>> 1) ^ (rest & 1 ? POLYNOMIAL : 0);
  }
  return ~rest >>> 0;
}
