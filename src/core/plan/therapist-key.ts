import { z } from 'zod';

/** The alphabet of bech32 and the numbers of its check sum (BIP 173, sections "Bech32" and "Checksum"). */
const ALPHABET = 'qpzry9x8gf2tvdw0s3jn54khce6mua7l';
const GENERATOR = [0x3b6a57b2, 0x26508e6d, 0x1ea119fa, 0x3d4233dd, 0x2a1462b3] as const;
/** What the public key of the age format begins with, before the separator "1" (age specification, X25519 recipient). */
const KIND = 'age';
const SHAPE = /^age1[qpzry9x8gf2tvdw0s3jn54khce6mua7l]{58}$/;

/**
 * The public key that packages for the therapist are locked with: "age1" and 58 characters. It opens nothing. A key with
 * a character changed is refused, because nobody could open what is locked with it.
 */
export const therapistKeySchema = z
  .string()
  .regex(SHAPE)
  .refine(isWhole, { message: 'A character of this key was changed.' });

/** Whether the check sum of a key in bech32 fits its characters (BIP 173). */
function isWhole(key: string): boolean {
  const kind = Array.from(KIND, (character) => character.charCodeAt(0));
  const values = Array.from(key.slice(KIND.length + 1), (character) => ALPHABET.indexOf(character));
  const all = [...kind.map((code) => code >> 5), 0, ...kind.map((code) => code & 31), ...values];
  return all.reduce(withNext, 1) === 1;
}

function withNext(sum: number, value: number): number {
  const top = sum >>> 25;
  const next = ((sum & 0x1ffffff) << 5) ^ value;
  return GENERATOR.reduce((mixed, number, bit) => ((top >> bit) & 1 ? mixed ^ number : mixed), next);
}
