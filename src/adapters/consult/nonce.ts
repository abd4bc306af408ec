import { bytesToHex } from '@noble/hashes/utils.js';

/** 32 bytes of the browser's own chance, as 64 hexadecimal digits. */
export function newNonce(): string {
  return bytesToHex(crypto.getRandomValues(new Uint8Array(32)));
}
