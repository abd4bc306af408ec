import type { Meeting } from '../../core/consult/meeting.ts';
import type { SealedBy, Sealer } from '../../core/consult/meeting-post.ts';

/** Rounds that make trying codes slow. Source: OWASP's advice for PBKDF2 with SHA-256, from memory. */
const ROUNDS = 600_000;
/** NIST SP 800-38D, section 8.2: 96 bits. */
const NONCE_BYTES = 12;

const bytesOf = (text: string): Uint8Array<ArrayBuffer> => new TextEncoder().encode(text);

/** Seals texts with AES-GCM by a key from the meeting's secret. Who sealed and where is part of the seal. */
export async function sealerOf({ place, secret }: Meeting): Promise<Sealer> {
  const salt = bytesOf(`forearmed-meeting-1 ${place}`);
  const base = await crypto.subtle.importKey('raw', bytesOf(secret), 'PBKDF2', false, ['deriveKey']);
  const key = await crypto.subtle.deriveKey(
    { name: 'PBKDF2', hash: 'SHA-256', salt, iterations: ROUNDS },
    base,
    { name: 'AES-GCM', length: 256 },
    false,
    ['encrypt', 'decrypt'],
  );
  const how = (iv: Uint8Array<ArrayBuffer>, by: SealedBy) => ({
    name: 'AES-GCM',
    iv,
    additionalData: bytesOf(`${by} ${place}`),
  });
  return {
    async seal(by, text) {
      const iv = crypto.getRandomValues(new Uint8Array(NONCE_BYTES));
      const sealed = await crypto.subtle.encrypt(how(iv, by), key, bytesOf(text));
      return toText(new Uint8Array([...iv, ...new Uint8Array(sealed)]));
    },
    async unseal(by, sealed) {
      try {
        const bytes = fromText(sealed);
        const iv = bytes.slice(0, NONCE_BYTES);
        const plain = await crypto.subtle.decrypt(how(iv, by), key, bytes.slice(NONCE_BYTES));
        return new TextDecoder('utf-8', { fatal: true }).decode(plain);
      } catch {
        // Sealed by another secret, or changed on its way: the browser says no more than that.
        return null;
      }
    },
  };
}

function toText(bytes: Uint8Array): string {
  const binary = Array.from(bytes, (byte) => String.fromCharCode(byte)).join('');
  return btoa(binary).replaceAll('+', '-').replaceAll('/', '_').replaceAll('=', '');
}

function fromText(text: string): Uint8Array<ArrayBuffer> {
  return Uint8Array.from(atob(text.replaceAll('-', '+').replaceAll('_', '/')), (letter) =>
    letter.charCodeAt(0),
  );
}
