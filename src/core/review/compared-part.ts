/** One hold or repetition of a session that is compared. */
export interface ComparedPart {
  readonly setIndex: number;
  /** Counted from 1 within its set. */
  readonly number: number;
}

/** Stands in an address for a whole session. */
const WHOLE = '-';

/** A part as it stands in an address: "2.5" is the fifth of the second set; null: the whole session. */
export function partText(part: ComparedPart | null): string {
  return part === null ? WHOLE : `${part.setIndex + 1}.${part.number}`;
}

/** Reads a part out of an address; null for a whole session and for whatever is not known. */
export function partOfText(text: string | undefined): ComparedPart | null {
  const [, set, number] = /^([1-9]\d{0,2})\.([1-9]\d{0,3})$/.exec(text ?? '') ?? [];
  return set === undefined || number === undefined
    ? null
    : { setIndex: Number(set) - 1, number: Number(number) };
}
