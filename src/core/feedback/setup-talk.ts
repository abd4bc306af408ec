/**
 * When a correction of the set-up is spoken: once it has lasted, and again only while it persists, each time after a
 * longer wait. What is right is said once. Times in seconds. Common practice, no source.
 */
const SPOKEN_AFTER_SECONDS = 0.7;
const FIRST_WAIT_SECONDS = 8;
const WAIT_GROWS_BY = 1.6;
const LONGEST_WAIT_SECONDS = 30;

/** What is being told, since when, and what was said last. */
export interface SetupTalk {
  readonly words: string | null;
  readonly sinceSeconds: number;
  readonly said: { readonly words: string; readonly atSeconds: number; readonly waitSeconds: number } | null;
}

/** Nothing said yet. */
export const SILENT: SetupTalk = { words: null, sinceSeconds: 0, said: null };

/**
 * Takes what there is to say at a moment, null for nothing, and tells whether it is said aloud now.
 * @param isCorrection - a correction is said again while it persists; anything else once
 */
export function stepSetupTalk(
  talk: SetupTalk,
  words: string | null,
  isCorrection: boolean,
  timeSeconds: number,
): { readonly talk: SetupTalk; readonly isSaid: boolean } {
  const sinceSeconds = words === talk.words ? talk.sinceSeconds : timeSeconds;
  const quiet = { ...talk, words, sinceSeconds };
  if (words === null || timeSeconds - sinceSeconds < SPOKEN_AFTER_SECONDS)
    return { talk: quiet, isSaid: false };
  const { said } = talk;
  const isAgain = said?.words === words;
  if (isAgain && (!isCorrection || timeSeconds - said.atSeconds < said.waitSeconds))
    return { talk: quiet, isSaid: false };
  const waitSeconds = isAgain
    ? Math.min(LONGEST_WAIT_SECONDS, said.waitSeconds * WAIT_GROWS_BY)
    : FIRST_WAIT_SECONDS;
  return { talk: { ...quiet, said: { words, atSeconds: timeSeconds, waitSeconds } }, isSaid: true };
}
