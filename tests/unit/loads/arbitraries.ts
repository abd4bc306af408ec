import fc from 'fast-check';
import type { Band, Bar, BodyCurlSetUp } from '../../../src/core/loads/equipment.ts';
import type { LoadPerson } from '../../../src/core/loads/arm-geometry.ts';

/** Numbers of a range that a form could hold: finite, any double in it. */
export const within = (min: number, max: number): fc.Arbitrary<number> =>
  fc.double({ min, max, noNaN: true, noDefaultInfinity: true });

export const anyPerson: fc.Arbitrary<LoadPerson> = fc.record({
  statureCm: within(80, 250),
  bodyMassKg: fc.option(within(25, 300)),
});

/** Any bar that the schema takes. */
export const anyBar: fc.Arbitrary<Bar> = fc
  .record({
    massKg: within(0.5, 400),
    lengthM: within(0.3, 4),
    left: within(0, 1),
    span: within(0, 1),
    grips: fc.array(within(0, 1), { minLength: 1, maxLength: 2 }),
    heldDown: fc.tuple(fc.boolean(), fc.boolean()),
    supportShape: fc.constantFrom('open-above', 'open-in-front', 'closed'),
  })
  .map(({ left, span, grips, lengthM, massKg, heldDown, supportShape }) => {
    const leftM = left * (lengthM - 0.11);
    const rightM = leftM + 0.105 + span * (lengthM - leftM - 0.105);
    return {
      kind: 'bar',
      massKg,
      lengthM,
      supportsM: [leftM, Math.min(lengthM, rightM)],
      gripsM: grips.map((share) => share * lengthM),
      heldDown,
      supportShape,
    };
  });

/** Any band that the schema takes, sensible or not. */
export const anyBand: fc.Arbitrary<Band> = fc.record({
  kind: fc.constant('band'),
  restLengthM: within(0.02, 5),
  readings: fc.array(fc.record({ lengthM: within(0.02, 10), forceN: within(0, 1000) }), {
    minLength: 2,
    maxLength: 20,
  }),
  anchorM: fc.record({ forward: within(-4, 4), outward: within(-4, 4), up: within(-3, 4) }),
  leavesHand: fc.constantFrom('thumb-side', 'little-finger-side', 'middle'),
  fromForearmAxisM: within(0, 0.25),
});

/** Any set-up of a body-moving curl that the schema takes. */
export const anyBodyCurl: fc.Arbitrary<BodyCurlSetUp> = fc.record({
  kind: fc.constant('body-curl-set-up'),
  barHeightM: within(0.3, 2.5),
  feetForwardM: within(-1, 2.5),
  hands: fc.constantFrom(1, 2),
});
