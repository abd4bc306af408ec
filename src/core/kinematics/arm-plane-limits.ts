/**
 * Everything that was set by hand about the plane in which the treated arm bends. Angles in degrees, lengths in
 * upper-arm lengths. Sources: "common" is common practice without a published source; "simulated" was set on simulated
 * bodies of the developing seeds (tests/helpers/oblique-sets.ts), never on the judging ones; the developing set is that
 * of the yardstick (demo-clips/generator/yardstick).
 */
export const ARM_PLANE = {
  /**
   * Scatter of the body's yaw, as its lines show it, about the true one, and its growth with the yaw. From a trial on
   * rendered figures: mean errors of 1.8 to 5 deg standing.
   */
  bodyYaw: { sdDeg: 4.5, growth: 0.04, unknownSdDeg: 15 },
  /** Camera's pitch from trunk and legs in the network's metric guess (same trial), and where that is not to be had. Common. */
  pitch: { sdDeg: 3.5, unknownDeg: 3, unknownSdDeg: 6 },
  /** Upper arm away from the body: it hangs past the trunk's breadth; held forward, the hands are as far apart as the shoulders. Common. */
  abduction: { hangingDeg: 8, forwardDeg: 2, sdDeg: 5 },
  /** Turn of the upper arm about its length that brings the bent forearm before the belly. Common. */
  inwardRotation: { meanDeg: 2, sdDeg: 7 },
  /** Forearm over upper arm between joint centres, by Drillis and Contini's table (0.146 / 0.186), and between people. */
  forearm: { logRatio: Math.log(0.146 / 0.186), sd: 0.047 },
  /**
   * How far the network's elbow lies short of the joint, towards the shoulder, and how that scatters between people:
   * the mean from a trial on rendered figures, the scatter wide enough for the 6 to 10 per cent, one 18, of the demo clips.
   */
  elbowShort: { mean: 0.078, sd: 0.035 },
  /** Noise of a landmark across the picture for weighing lengths, and between which its effect on a log length is kept. */
  lengthNoise: { landmark: 0.05, least: 0.035, most: 0.3 },
  /** Residuals beyond so many standard deviations count less (Huber 1964 uses 1.345 to 2). Common. */
  huberLimit: 2,
  /** Frames that are fitted at most; by groups of like flexion, so that a long hold does not outvote the bends. */
  frames: { most: 60, groupDeg: 10 },
  /** Errors of like postures are alike: so many frames of a group count as independent. Simulated. */
  independentPerGroup: 2,
  /**
   * Points are moved so that segments keep their lengths through the set. slack: by so much a log length may still miss,
   * for each upper-arm length by which points are off. mostMiss: larger misses of a log length are no scatter and count as
   * this. On the developing set the mean error falls by 0.1 to 0.15 deg with any network, as much with a slack of 0.5 as
   * of 1.5, and no further with weights that were fitted to it.
   */
  lengthKeeping: { slack: 1, mostMiss: 0.25 },
  /**
   * An arm whose proportions are stranger than this, in standard deviations between people, is not the arm: of the
   * developing set's sets to 45 deg of yaw those above were off by 7 to 27 deg, one of 2.2 by 14, and no set that was off
   * by less than 5 had over 1.9. From 1 on the doubt that is left over grows in proportion.
   */
  mostStrangeness: 2.6,
  /** Beyond this angle between the line of sight and the plane's normal the arm is refused as too oblique. */
  obliqueDeg: 56,
} as const;
