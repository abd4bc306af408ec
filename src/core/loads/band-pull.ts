import type { Variant } from '../exercises/exercise.ts';
import { toRadians } from '../math/angle.ts';
import { clamp } from '../math/statistics.ts';
import { armLengths, type LoadPerson } from './arm-geometry.ts';
import { bandTension, fitBandCurve, type BandCurve } from './band-force.ts';
import type { Band } from './equipment.ts';
import {
  figureWithDoubts,
  isKnown,
  notKnown,
  type Doubt,
  type EstimatedQuantity,
  type LoadFigure,
  type NotKnown,
} from './load-figure.ts';
import { BODY_DOUBT, FULL_ROTATION_DEG, INPUT_DOUBT, PRONATION_NOTICED_NM } from './load-limits.ts';

/** A place or direction as seen from the elbow of the treated arm, metres: forward, towards the arm's own side, up. */
interface ArmPoint {
  readonly forward: number;
  readonly outward: number;
  readonly up: number;
}

/** Where the band runs and what one newton in it does, upper arm hanging. */
export interface BandGeometry {
  /** Where the band leaves the hand. */
  readonly leaves: ArmPoint;
  readonly lengthM: number;
  /** Of the band's line about the elbow's axis; positive: the flexors hold it. */
  readonly flexionLeverM: number;
  /** Of the band's line about the forearm's long axis; positive: it drags into pronation. */
  readonly pronationLeverM: number;
}

/** What geometry needs of a band. */
export type BandRun = Pick<Band, 'anchorM' | 'leavesHand' | 'fromForearmAxisM'>;

/**
 * The forearm's rotation asked at an angle, degrees from thumb up, supination positive: palm up throughout, or turning from full
 * pronation at the straight end into full supination at the bent end.
 */
export function plannedRotationDeg(variant: Variant | null, flexionDeg: number, range: FlexionRange): number {
  if (variant !== 'turning') return FULL_ROTATION_DEG;
  const span = range.topFlexionDeg - range.startFlexionDeg;
  const share = span > 0 ? clamp((flexionDeg - range.startFlexionDeg) / span, 0, 1) : 1;
  return FULL_ROTATION_DEG * (2 * share - 1);
}

/** Ends of a repetition, degrees of elbow flexion. */
export interface FlexionRange {
  readonly startFlexionDeg: number;
  readonly topFlexionDeg: number;
}

/**
 * Line of a band and its levers, the upper arm hanging and the elbow at the origin. By virtual work: a lever about a joint is how
 * much longer the band becomes for one radian of that joint's movement, so that left and right arms need no signs.
 * Elbow flexion carries the hand forward and up; supination turns the thumb outwards when the elbow is at 90.
 * @param elbowToGripM - from the elbow to the middle of the grip
 */
export function bandGeometry(
  run: BandRun,
  elbowToGripM: number,
  flexionDeg: number,
  rotationDeg: number,
): BandGeometry {
  const [f, r] = [toRadians(flexionDeg), toRadians(rotationDeg)];
  // Along the forearm; the way the hand moves in flexion; and their changes with flexion.
  const along = { forward: Math.sin(f), outward: 0, up: -Math.cos(f) };
  const swing = { forward: Math.cos(f), outward: 0, up: Math.sin(f) };
  const back = { forward: -Math.sin(f), outward: 0, up: Math.cos(f) };
  const outward = { forward: 0, outward: 1, up: 0 };
  const [c, s] = [Math.cos(r), Math.sin(r)];
  const place = PLACE_ON_HAND[run.leavesHand](c, s);
  const turn = PLACE_TURN[run.leavesHand](c, s);
  const d = run.fromForearmAxisM;

  const leaves = sumPoints([elbowToGripM, along], [d * place.swing, swing], [d * place.outward, outward]);
  const perFlexion = sumPoints([elbowToGripM, swing], [d * place.swing, back]);
  const perSupination = sumPoints([d * turn.swing, swing], [d * turn.outward, outward]);
  const toAnchor = sumPoints([1, run.anchorM], [-1, leaves]);
  const lengthM = Math.hypot(toAnchor.forward, toAnchor.outward, toAnchor.up);
  const lever = (movement: ArmPoint): number => (lengthM > 0 ? 0 - dot(toAnchor, movement) / lengthM : 0);
  return {
    leaves,
    lengthM,
    flexionLeverM: lever(perFlexion),
    pronationLeverM: lever(perSupination),
  };
}

/** A place on the hand across the forearm, in units of its distance from the axis. */
interface AcrossForearm {
  readonly swing: number;
  readonly outward: number;
}

type PlaceOf = Readonly<Record<Band['leavesHand'], (cos: number, sin: number) => AcrossForearm>>;

/** With the thumb up (rotation 0) the thumb points the way flexion goes and the palm inwards. "middle" is the palm's side. */
const PLACE_ON_HAND: PlaceOf = {
  'thumb-side': (c, s) => ({ swing: c, outward: s }),
  'little-finger-side': (c, s) => ({ swing: -c, outward: -s }),
  middle: (c, s) => ({ swing: s, outward: -c }),
};

/** How that place moves for one radian of supination. */
const PLACE_TURN: PlaceOf = {
  'thumb-side': (c, s) => ({ swing: -s, outward: c }),
  'little-finger-side': (c, s) => ({ swing: s, outward: -c }),
  middle: (c, s) => ({ swing: c, outward: s }),
};

/** A band's pull at one angle. Moments are what the band does: the muscles must do the opposite. */
export interface BandPull {
  readonly flexionDeg: number;
  readonly rotationDeg: number;
  readonly geometry: BandGeometry;
  readonly tensionN: LoadFigure;
  /** Positive: the band stretches the elbow and the flexors hold it. Without the forearm's weight. */
  readonly flexionMomentNm: LoadFigure;
  /** Positive: the band drags the forearm into pronation; negative: into supination. */
  readonly pronatingMomentNm: LoadFigure;
}

/** What is doubted in a band's pull, as one bundle that each doubt moves a little. */
interface PullInput {
  readonly run: BandRun;
  readonly elbowToGripM: number;
  readonly flexionDeg: number;
  readonly rotationDeg: number;
  readonly tension: 'least' | 'value' | 'most';
}

const PULL_DOUBTS: readonly Doubt<PullInput>[] = [
  (input, sign) => ({ ...input, tension: sign < 0 ? 'least' : 'most' }),
  (input, sign) => ({
    ...input,
    elbowToGripM: input.elbowToGripM * (1 + sign * BODY_DOUBT.forearmLengthShare),
  }),
  ...(['forward', 'outward', 'up'] as const).map((way): Doubt<PullInput> => (input, sign) => {
    const anchorM = { ...input.run.anchorM, [way]: input.run.anchorM[way] + sign * INPUT_DOUBT.anchorM };
    return { ...input, run: { ...input.run, anchorM } };
  }),
  (input, sign) => {
    const fromForearmAxisM = Math.max(0, input.run.fromForearmAxisM + sign * INPUT_DOUBT.handPlaceM);
    return { ...input, run: { ...input.run, fromForearmAxisM } };
  },
];

/**
 * Tension and moments of a band at one angle, with the doubts of curve, anchor, hand and arm.
 * @returns why the band's force is not known there
 */
export function bandPull(
  curve: BandCurve,
  run: BandRun,
  person: LoadPerson,
  flexionDeg: number,
  rotationDeg: number,
): BandPull | NotKnown {
  const { elbowToGripM } = armLengths(person);
  const input: PullInput = { run, elbowToGripM, flexionDeg, rotationDeg, tension: 'value' };
  const at = bandGeometry(run, elbowToGripM, flexionDeg, rotationDeg);
  const tension = bandTension(curve, at.lengthM);
  if (!isKnown(tension)) return tension;
  const figure = (of: EstimatedQuantity, lever: (g: BandGeometry) => number): LoadFigure => {
    const evaluate = (moved: PullInput): number | null => {
      const g = bandGeometry(moved.run, moved.elbowToGripM, moved.flexionDeg, moved.rotationDeg);
      const pull = bandTension(curve, g.lengthM);
      return isKnown(pull) ? pull[moved.tension] * lever(g) : null;
    };
    return figureWithDoubts(evaluate, input, PULL_DOUBTS, of) ?? { value: 0, least: 0, most: 0, of };
  };
  return {
    flexionDeg,
    rotationDeg,
    geometry: at,
    tensionN: figure('band-tension', () => 1),
    flexionMomentNm: figure('band-flexion-moment', ({ flexionLeverM }) => flexionLeverM),
    pronatingMomentNm: figure('band-pronating-moment', ({ pronationLeverM }) => pronationLeverM),
  };
}

/** A band fitted and led through a range: one pull or one reason for each angle asked. */
export interface BandCourse {
  readonly curve: BandCurve;
  readonly pulls: readonly (BandPull | NotKnown)[];
}

/**
 * A band's pull over the angles of a repetition.
 * @returns why no curve could be fitted to the readings
 */
export function bandCourse(
  band: Band,
  person: LoadPerson,
  variant: Variant | null,
  range: FlexionRange,
  flexionsDeg: readonly number[],
): BandCourse | NotKnown {
  const curve = fitBandCurve(band);
  if (!isKnown(curve)) return notKnown(curve.notKnown);
  const pulls = flexionsDeg.map((flexionDeg) =>
    bandPull(curve, band, person, flexionDeg, plannedRotationDeg(variant, flexionDeg, range)),
  );
  return { curve, pulls };
}

/** What a band's line does to the forearm's rotation over a range. */
export type RotationDrag = 'pronates' | 'supinates' | 'both' | 'none';

/** Which way a band drags the forearm over a repetition; moments too small to notice count as none. */
export function rotationDrag(pulls: readonly BandPull[]): RotationDrag {
  const moments = pulls.map(({ pronatingMomentNm }) => pronatingMomentNm.value);
  const pronates = moments.some((momentNm) => momentNm > PRONATION_NOTICED_NM);
  const supinates = moments.some((momentNm) => momentNm < -PRONATION_NOTICED_NM);
  if (pronates) return supinates ? 'both' : 'pronates';
  return supinates ? 'supinates' : 'none';
}

function sumPoints(...terms: readonly (readonly [number, ArmPoint])[]): ArmPoint {
  return {
    forward: terms.reduce((sum, [by, { forward }]) => sum + by * forward, 0),
    outward: terms.reduce((sum, [by, { outward }]) => sum + by * outward, 0),
    up: terms.reduce((sum, [by, { up }]) => sum + by * up, 0),
  };
}

function dot(a: ArmPoint, b: ArmPoint): number {
  return a.forward * b.forward + a.outward * b.outward + a.up * b.up;
}
