/** Where two sides meet at a server, and what seals the texts that they pass through it. */
export interface Meeting {
  /** Known to the server. */
  readonly place: string;
  /** Known to the two sides alone. */
  readonly secret: string;
}

/** An invitation by a server: the same place, by a code that is said and by a link that is sent. */
export interface OpenMeeting {
  readonly place: string;
  readonly codeSecret: string;
  readonly linkSecret: string;
}

/** What a guest says first; then it sends its answer. */
export const KNOCK = 'knock';

/** Letters that are not taken for another: without I, L, O and U. */
const LETTERS = '0123456789ABCDEFGHJKMNPQRSTVWXYZ';
/** One million places: two invitations of one hour hardly meet, and a place that is taken is left. */
const PLACE_LETTERS = 4;
/** 40 bits, stretched (sealed-text.ts): more than a server that reads along can try within an hour (docs/consult.md). */
const SECRET_LETTERS = 8;
const LINK_BEGINNING = 'consult=2.';
const LINK = /consult=2\.([0-9A-HJKMNP-TV-Z]{4})([0-9a-f]{32})$/;

/** A new meeting from 32 bytes of chance, as 64 hexadecimal digits. */
export function newMeeting(chance: string): OpenMeeting {
  const letters = [...chance.slice(0, 2 * (PLACE_LETTERS + SECRET_LETTERS)).matchAll(/../g)]
    .map(([pair]) => LETTERS.charAt(Number.parseInt(pair, 16) % LETTERS.length))
    .join('');
  return {
    place: letters.slice(0, PLACE_LETTERS),
    codeSecret: letters.slice(PLACE_LETTERS),
    linkSecret: chance.slice(-32),
  };
}

/** Where both sides of a consult come together again, from 64 hexadecimal digits of chance for each. */
export function returnMeeting(placeChance: string, secret: string): Meeting {
  return { place: placeChance.slice(0, 32), secret };
}

/** The code to be said: three groups of four. */
export function meetingCode({ place, codeSecret }: OpenMeeting): string {
  return [...`${place}${codeSecret}`.matchAll(/.{4}/g)].map(([group]) => group).join('-');
}

/** The meeting as the fragment of a link, without "#". */
export function meetingLink({ place, linkSecret }: OpenMeeting): string {
  return LINK_BEGINNING + place + linkSecret;
}

/** The meeting in a code as somebody typed it, or in a link; null where there is none. */
export function readMeeting(text: string): Meeting | null {
  const bare = text.replace(/\s+/g, '').slice(0, 2_000);
  const [, placeInLink, secretInLink] = LINK.exec(bare) ?? [];
  if (placeInLink !== undefined && secretInLink !== undefined)
    return { place: placeInLink, secret: secretInLink };
  const letters = bare
    .toUpperCase()
    .replace(/[-–—_.]/g, '')
    .replace(/O/g, '0')
    .replace(/[IL]/g, '1');
  const isCode =
    letters.length === PLACE_LETTERS + SECRET_LETTERS &&
    [...letters].every((letter) => LETTERS.includes(letter));
  return isCode ? { place: letters.slice(0, PLACE_LETTERS), secret: letters.slice(PLACE_LETTERS) } : null;
}
