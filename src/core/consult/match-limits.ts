/** How a figure is found for a received picture. Chosen for this tool, no source, unless said otherwise. */
export const MATCH_LIMITS = {
  /** Measured pictures and shown ones that are remembered, milliseconds of their own time: more than a video can be late. */
  keptMs: 8_000,
  /** And at most so many. */
  kept: 400,
  /** Shown pictures by which the two clocks are laid against each other, and the fewest that will do. */
  clockPictures: 90,
  leastClockPictures: 8,
  /** The clocks are laid against each other anew after so many pictures. */
  renewPictures: 15,
  /** A clock that is off by so much all at once is another one, milliseconds. */
  jumpMs: 400,
  /**
   * What the browser says of a picture's capture is off by some milliseconds (it goes by half the round trip); the exact offset is looked
   * for so far around, and its being off by so much is held to be usual.
   */
  searchMs: 120,
  usualMs: 30,
  /** RTP times are rounded to a millisecond by Chromium (seen): the same picture's two times agree within this. */
  sameMs: 1.6,
  /** Fewer agreeing pictures than this decide nothing. */
  leastAgreeing: 6,
  /** Between two measured pictures the figure is drawn between them, when they are no further apart than this, milliseconds. */
  bridgeMs: 400,
  /** A picture that is newer than the last measured one by less than a frame still takes its figure, milliseconds. */
  frameMs: 20,
  /** The picture may be held back for its figure by so much at most, milliseconds: longer holds would be felt in talking. */
  longestHoldMs: 600,
  holdStepMs: 40,
  /** It is held back so that this share of pictures has its figure. */
  inTimeShare: 0.9,
} as const;
