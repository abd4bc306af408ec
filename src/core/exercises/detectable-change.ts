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
    loweringSeconds: { sameSetUp: 0.16, cameraTo20Deg: 0.51, cameraTo45Deg: 0.54 },
  },
  'body-curl': {
    rangeDeg: { sameSetUp: 2.9, cameraTo20Deg: 13.6, cameraTo45Deg: 17.7 },
    loweringSeconds: { sameSetUp: 0.19, cameraTo20Deg: 0.32, cameraTo45Deg: 1.08 },
    shoulderShare: { sameSetUp: 0.015, cameraTo20Deg: 0.074, cameraTo45Deg: 0.111 },
    torsoTravelCm: { sameSetUp: 0.5, cameraTo20Deg: 6.7, cameraTo45Deg: 6.7 },
  },
} as const;
