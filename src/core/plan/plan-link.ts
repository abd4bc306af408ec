import { deflateSync, Inflate, strFromU8, strToU8 } from 'fflate';
import { crc32 } from './crc32.ts';
import { LINK_WORDS_1 } from './link-words.ts';
import { planSchema, type Plan } from './plan.ts';
import { MOST_CHARACTERS, readPlan, type PlanProblem, type PlanReading } from './read-plan.ts';

/** What the fragment of a link to a plan begins with; the digit is the link's own format. */
const BEGINNING = 'plan=1.';
const ANY_BEGINNING = /^#?plan=(\d+)\.(.*)$/;
/** A link of this many characters or more is refused unread: a plan has some hundreds, with everything changed some thousands. */
const MOST_LINK_CHARACTERS = 200_000;
const CHECK_BYTES = 4;
/** So little is unpacked at a time that what comes out of it stays small (deflate makes at most 1032 bytes of one). */
const PIECE_BYTES = 64;

const WORDS = strToU8(LINK_WORDS_1);

/**
 * A plan as the fragment of a link, without "#": never sent to a server, because browsers keep fragments to themselves
 * (RFC 9110, section 4.2.3). Packed with deflate (RFC 1951) against the usual words of a plan, with a check sum before it,
 * in the alphabet of RFC 4648, section 5. A plan near the one that stands ready has under 300 characters. Throws when it is
 * no plan by the schema.
 */
export function planFragment(plan: Plan): string {
  // Members in the schema's order, as in the words that it is packed against.
  const text = strToU8(JSON.stringify(planSchema.parse(plan)));
  const packed = deflateSync(text, { level: 9, dictionary: WORDS });
  const bytes = new Uint8Array(CHECK_BYTES + packed.length);
  new DataView(bytes.buffer).setUint32(0, crc32(text));
  bytes.set(packed, CHECK_BYTES);
  return BEGINNING + toBase64Url(bytes);
}

/** Whether a fragment, with or without "#", says that it holds a plan. */
export function holdsPlan(fragment: string): boolean {
  return ANY_BEGINNING.test(fragment);
}

/** The plan in a fragment, with or without "#", or why there is none. A link with a character changed is refused. */
export function planOfFragment(fragment: string): PlanReading {
  if (fragment.length >= MOST_LINK_CHARACTERS) return tooLong(fragment.length, MOST_LINK_CHARACTERS);
  const [, format, content = ''] = ANY_BEGINNING.exec(fragment) ?? [];
  if (format === undefined) return refuse({ kind: 'not-ours' });
  if (format !== '1') return refuse({ kind: 'newer-version', version: Number(format), readableVersion: 1 });
  const bytes = fromBase64Url(content);
  if (bytes === null || bytes.length <= CHECK_BYTES) return refuse({ kind: 'link-damaged' });
  const text = unpacked(bytes.subarray(CHECK_BYTES));
  if (text === 'too-long') return tooLong(MOST_CHARACTERS + 1, MOST_CHARACTERS);
  const check = new DataView(bytes.buffer, bytes.byteOffset).getUint32(0);
  if (text === 'damaged' || crc32(text) !== check) return refuse({ kind: 'link-damaged' });
  return readPlan(strFromU8(text));
}

/** What was packed, piece by piece, so that a link that unpacks to far more than a plan is noticed before it fills memory. */
function unpacked(packed: Uint8Array): Uint8Array | 'too-long' | 'damaged' {
  const chunks: Uint8Array[] = [];
  let length = 0;
  const inflate = new Inflate({ dictionary: WORDS }, (chunk) => {
    chunks.push(chunk);
    length += chunk.length;
  });
  try {
    for (let start = 0; start < packed.length; start += PIECE_BYTES) {
      inflate.push(packed.subarray(start, start + PIECE_BYTES), start + PIECE_BYTES >= packed.length);
      if (length > MOST_CHARACTERS) return 'too-long';
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
  const binary = Array.from(bytes, (byte) => String.fromCharCode(byte)).join('');
  return btoa(binary).replaceAll('+', '-').replaceAll('/', '_').replaceAll('=', '');
}

function fromBase64Url(text: string): Uint8Array<ArrayBuffer> | null {
  if (!/^[A-Za-z0-9_-]*$/.test(text) || text.length % 4 === 1) return null;
  const binary = atob(text.replaceAll('-', '+').replaceAll('_', '/'));
  return Uint8Array.from(binary, (character) => character.charCodeAt(0));
}

function tooLong(characters: number, mostCharacters: number): PlanReading {
  return refuse({ kind: 'too-long', characters, mostCharacters });
}

function refuse(problem: PlanProblem): PlanReading {
  return { ok: false, problem };
}
