import type { SessionListing } from './session-store.ts';

/** The words of listed sessions, made ready once for searching. */
export interface SessionIndex {
  readonly listings: readonly SessionListing[];
  readonly texts: readonly string[];
}

/** Makes the words of sessions ready. words: what a list says of a session, as it is read on the screen. */
export function sessionIndex(
  listings: readonly SessionListing[],
  words: (listing: SessionListing) => string,
): SessionIndex {
  const texts = listings.map((listing) =>
    ` ${words(listing)} ${listing.createdAt.slice(0, 10)}`.toLowerCase(),
  );
  return { listings, texts };
}

/**
 * The sessions that fit every word of a search, in the order given: each must begin a word of what the list says, or the
 * date as 2026-03-02. An empty search fits all.
 */
export function findSessions({ listings, texts }: SessionIndex, search: string): readonly SessionListing[] {
  const asked = search
    .toLowerCase()
    .split(/[\s,]+/)
    .filter((word) => word !== '');
  if (asked.length === 0) return listings;
  return listings.filter((_, index) => asked.every((word) => texts[index]?.includes(` ${word}`)));
}
