/** Base64 (RFC 4648, section 4) of bytes. */
export function base64Of(bytes: Uint8Array): string {
  let text = '';
  // In parts, because a call takes only so many arguments.
  for (let from = 0; from < bytes.length; from += 8192)
    text += String.fromCharCode(...bytes.subarray(from, from + 8192));
  return btoa(text);
}

/** The bytes that a base64 text says. Throws for what is no base64. */
export function bytesOfBase64(text: string): Uint8Array<ArrayBuffer> {
  return Uint8Array.from(atob(text), (character) => character.charCodeAt(0));
}
