/**
 * What may come from the other side at most, and how long is waited. Chosen for this tool, no source, unless said otherwise.
 * One message of a data channel should stay within 16 kB where a browser does not tell more (RFC 8831, section 6.6); a description
 * with picture and sound is longer, and every browser of today takes 64 kB (the default of RFC 8841, section 6.1).
 */
export const CONSULT_LIMITS = {
  messageCharacters: 16_000,
  mediaCharacters: 60_000,
  liveCharacters: 2_000,
  /** Texts by which two sides find each other: a description without picture and sound has some hundred. */
  invitationCharacters: 8_000,
  /** The same, sealed: a third longer, and some bytes of the seal. */
  sealedCharacters: 12_000,
  candidates: 40,
  /** Refused messages after which the other side is held to be hostile, or broken beyond use. */
  refusals: 50,
  /** Entries of a course: an hour with one every two seconds. */
  entries: 2_000,
  /** An invitation ends after this, minutes. */
  invitationMinutes: 60,
  /** The other clock may be so wrong before an invitation is held to be of the future, minutes. */
  clockMinutes: 24 * 60,
  /** No way was found when there is none so long after the answer, seconds. */
  connectSeconds: 30,
  /** Nobody is there when nobody answered to a code for so long, seconds. */
  knockSeconds: 20,
  knockAgainSeconds: 3,
  /** A broken line mends itself for so long before it is made anew, and a new one has so long to come up, seconds. */
  mendSeconds: 8,
  remakeSeconds: 15,
  /** A page that was loaded again goes back into its consult for so long, minutes. */
  ticketMinutes: 30,
  /** A wish to start a set, a cue or a question that is older than this when it comes is shown as missed and not done, seconds. */
  freshSeconds: 3,
  /** Round trips that are remembered, and the time between two, seconds. */
  clockSamples: 8,
  clockSeconds: 2,
} as const;
