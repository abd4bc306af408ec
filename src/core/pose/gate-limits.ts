/**
 * From when on landmarks are not believed. None of these has a published source: they are bounds of what bodies and
 * projection allow, wide enough for fast exercise and narrow enough for the errors seen with this network. Lengths
 * are in trunk lengths (middle of the hips to middle of the shoulders in the picture).
 */
export const GATE_LIMITS = {
  /** A landmark with less is taken as not seen. A hidden far arm has 0.03 to 0.14, a clear one above 0.9. */
  seenVisibility: 0.5,
  /** How far, in shares of the picture, a landmark may lie over the edge before it counts as outside. */
  edgeMargin: 0.01,
  /** Shorter upper arms, in pixels, cannot give an angle to within a few degrees. */
  leastUpperArmPx: 25,
  /** Upper arm over trunk, for a size when the arm points at the camera: 0.186 / 0.288. */
  upperArmOverTrunk: 0.186 / 0.288,
  /** Furthest a landmark moves between pictures: a fixed part for jitter and a speed, trunk lengths a second. */
  jumpFloor: 0.12,
  jumpSpeed: { shoulder: 6, hip: 6, elbow: 10, wrist: 16 },
  /** After a longer pause than this, seconds, where things were before says nothing. */
  continuitySeconds: 0.6,
  /** After a longer absence, seconds, whoever comes is taken as a new person. */
  awaySeconds: 1,
  /** An excursion that ends where it began within this time was a slip of the tracker, not another person. */
  slipSeconds: 1,
  /** How long following must be steady at a new place before it is believed: one person, and with several about. */
  steadySeconds: 0.5,
  steadySecondsAmongPeople: 1,
  /** Slips shorter than this do not ask for a new search: it costs more than it gives. */
  resetAfterSeconds: 0.2,
  /** Least time between two requests for a new search. */
  resetPauseSeconds: 2,
  /** Longest a segment can look against the trunk, both stretched across the view: half above the usual ratio. */
  longestOverTrunk: { upperArm: 1.0, forearm: 0.85, thigh: 1.35 },
  /** Lengths are judged up to this yaw, degrees, of a mean over so many seconds. */
  lengthsYawDeg: 50,
  yawMeanSeconds: 0.5,
  /** Factor by which the trunk may differ from its own slow mean before the landmarks count as stale. */
  trunkChange: 1.35,
  /** After so long a changed trunk length is believed: the person came nearer or went farther away. */
  adoptSeconds: 3,
  trunkMeanSeconds: 3,
  /** Sides: a swap must fit this much better than no swap; between this and the second factor it is undecided. */
  exchangeFactor: 0.4,
  undecidedFactor: 0.7,
  exchangeFloor: 0.12,
  exchangeSpeed: 2,
  /** Head and feet against depth and visibility: time constant and the share of it from which labels are turned. */
  labelMeanSeconds: 0.4,
  labelTurnedShare: 0.8,
  labelDoubtShare: 0.45,
  /** Near side: time constant of the mean and the levels of its two-level switch. */
  nearMeanSeconds: 0.7,
  farOn: 0.2,
  farOff: -0.05,
  /** Labels that stay exchanged for this long ask for a new search. */
  exchangedResetSeconds: 2,
} as const;
