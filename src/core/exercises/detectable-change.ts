/**
 * A change from one set to another that is smaller may be chance (95 %): of the mean angle of a hold, and of means over a
 * set's repetitions; in the unit of the name, shares from 0 to 1. cameraTo20Deg: camera put up anew, both times turned at
 * most so far from square; sameSetUp: nothing moved between the sets. Each is no smaller than the one before. Found on rendered people, and without what the
 * person does differently from one day to the next, which comes on top.
 *
 * Written by `npm run repeatability -- --set developing --rate 15 --write`; how, and what is assumed, stands in docs/repeatability.md.
 */
export const DETECTABLE_CHANGE = {
  hold: { holdElbowDeg: { sameSetUp: 0.7, cameraTo20Deg: 10.1, cameraTo45Deg: 10.1 } },
  standing: {
    rangeDeg: { sameSetUp: 2.1, cameraTo20Deg: 9.9, cameraTo45Deg: 19.5 },
    loweringSeconds: { sameSetUp: 0.28, cameraTo20Deg: 0.41, cameraTo45Deg: 0.6 },
  },
  'body-curl': {
    rangeDeg: { sameSetUp: 2.9, cameraTo20Deg: 13.6, cameraTo45Deg: 17.8 },
    loweringSeconds: { sameSetUp: 0.18, cameraTo20Deg: 0.41, cameraTo45Deg: 0.91 },
    shoulderShare: { sameSetUp: 0.015, cameraTo20Deg: 0.074, cameraTo45Deg: 0.11 },
    torsoTravelCm: { sameSetUp: 0.6, cameraTo20Deg: 6.8, cameraTo45Deg: 6.8 },
  },
} as const;
