import { barCeiling, ceilingAlongBar } from '../loads/bar-statics.ts';
import type { BarSeat, PullOutcome, SupportShape } from '../loads/bar-seat.ts';
import type { RotationDrag } from '../loads/band-pull.ts';
import type { ForceLine } from '../loads/body-curl.ts';
import type { HardestPart } from '../loads/demand.ts';
import type { Bar } from '../loads/equipment.ts';
import { isKnown } from '../loads/load-figure.ts';
import type { BandSearch } from '../loads/set-up-search.ts';
import { figureWords } from './measure-words.ts';

/** Stands wherever demand is set against strength. */
export const THERAPIST_ONLY =
  'For the therapist. The strength is a healthy population’s curve, so this compares set-ups. It is never a starting load, and it says nothing of what this tendon bears.';

/** Stands above every drawing and figure of loads. */
export const LOADS_ARE_ESTIMATES =
  'Every figure here is an estimate from the measures you entered, standing still. The span beside it holds the doubts that are known.';

/** What a pull does to a bar, in a word or two. */
export const SEAT_WORDS: Readonly<Record<BarSeat, string>> = {
  seated: 'stays in',
  lifts: 'lifts out',
  'rolls-out': 'rolls out',
  tips: 'tips',
};

const SEAT_SENTENCES: Readonly<Record<SupportShape, string>> = {
  'open-above':
    'These supports are open above. A pull straight down keeps the bar in. A pull up lifts it out, and a strong pull to either side can roll it over the lip. Pull along one line, and stay below what the bar resists.',
  'open-in-front':
    'These supports are open in front. A pull down or towards their closed side keeps the bar in. Any pull towards the open side can roll it out. Stand so that you pull towards the closed side.',
  closed:
    'These supports are closed, so the bar cannot leave them. Check that the whole stand is heavy enough or fastened, and that it does not slide or tip.',
};

/** Which way of pulling keeps a bar in its supports. Common practice, no source. */
export function seatSentence(shape: SupportShape): string {
  return SEAT_SENTENCES[shape];
}

const PULL_WORDS = [
  'up',
  'up and to the open side',
  'to the open side',
  'down and to the open side',
  'down',
  'down and to the closed side',
  'to the closed side',
  'up and to the closed side',
];
const EVEN_PULL_WORDS = [
  'up',
  'up and to the right',
  'to the right',
  'down and to the right',
  'down',
  'down and to the left',
  'to the left',
  'up and to the left',
];

/** What a drawing of a bar in its supports shows, for those who do not see it: each way of pulling and what it does. */
export function seatDescription(
  shape: SupportShape,
  outcomes: readonly PullOutcome[],
  pulledWith: string,
): string {
  const names = shape === 'open-in-front' ? PULL_WORDS : EVEN_PULL_WORDS;
  const each = outcomes.map(({ seat }, index) => `${names[index] ?? ''}: ${SEAT_WORDS[seat]}`);
  return `A support seen along the bar, pulled with ${pulledWith} in eight directions. ${each.join('; ')}.`;
}

/** Asked before a hold or a body-moving curl on a bar. Common practice, no source. */
export const BAR_CHECKS = [
  'Does the bar sit at the bottom of both supports?',
  'Does your pull press it into the supports, and not out of them?',
  'Do the supports, and what they stand on, stay still when you pull a little?',
  'If one hand pulls at an end, does the other end stay down?',
] as const;

/** How a band is set up so that it hurts nobody. Common practice, no source. */
export const BAND_CHECKS = [
  'Look the band over before each session. Throw it away with the first nick, sticky place or whitening.',
  'Fasten it to something that cannot move, tip or cut. Close a door towards you and lock it.',
  'Keep the band’s line away from face and neck. Look away from the anchor while you fasten it.',
  'Wind it round the hand or use a handle. Do not rely on the grip alone.',
  'Take up the slack slowly, and let go slowly. Never let a stretched band go.',
  'Do not stretch it further than you have read with the scale.',
] as const;

/** A name for an assumption about the way the hands' force points. */
export const FORCE_LINE_WORDS: Readonly<
  Record<ForceLine, { readonly name: string; readonly meaning: string }>
> = {
  perpendicular: {
    name: 'smallest force',
    meaning:
      'At a right angle to the line from feet to hands. Against measured lean-backs it reads 3 to 13 points of body weight too low.',
  },
  'along-arm': {
    name: 'along the arm',
    meaning: 'From hand to shoulder, as a strap pulls. Within 5 points of measured lean-backs.',
  },
  vertical: {
    name: 'straight up',
    meaning: 'Fits push-ups. It often cannot hold a body that leans back.',
  },
};

const DRAG_SENTENCES: Readonly<Record<RotationDrag, string>> = {
  pronates:
    'The band drags the forearm towards palm down. The biceps has to hold the palm up as well as bend the elbow.',
  supinates:
    'The band turns the forearm towards palm up. It does the opposite of dragging into pronation, so the biceps is spared that part.',
  both: 'The band drags towards palm down in one part of the movement and towards palm up in another. See where in the table.',
  none: 'The band does not turn the forearm to a degree worth noticing.',
};

/** Whether a band drags into pronation at all, or does the opposite. */
export function dragSentence(drag: RotationDrag): string {
  return DRAG_SENTENCES[drag];
}

const HARDEST_WORDS: Readonly<Record<HardestPart, string>> = {
  straight: 'near the straight end',
  middle: 'in the middle',
  bent: 'near the bent end',
  'the-same': 'about the same throughout',
};

/** Where a range is hardest, in words; felt or worked out. */
export function hardestWords(part: HardestPart): string {
  return HARDEST_WORDS[part];
}

/** The evenness of demand over strength as it is read: "varies by 24 %". */
export function evennessWords(evenness: number | null): string {
  if (evenness === null) return 'no evenness';
  return `varies by ${figureWords(evenness, { unit: '', decimals: 0, factor: 100 })} %`;
}

/** What the evenness is; stands where it is shown. */
export const EVENNESS_MEANING =
  'Evenness is how much demand over strength varies through the range (standard deviation over mean). At 0 % the demand keeps in proportion to strength from straight to bent. It does not depend on how strong the person is.';

/**
 * For the therapist, when the record shows the hand rising in a hold: what it means and what the choices are. The patient only
 * ever hears to ease off.
 */
export function ceilingReachedSentences(bar: Bar): string[] {
  const now = barCeiling(bar);
  if (!isKnown(now))
    return [
      'The hand rose although this bar has no ceiling by its description. Check the grip and the supports.',
    ];
  const force = (forceN: number): string => `${Math.round(forceN)} N`;
  const places = ceilingAlongBar(bar, 20).flatMap(({ ceilingN }) => ceilingN ?? []);
  const highest = Math.max(now.forceN, ...places);
  return [
    `The hand rose in the hold: the bar lifted. The ceiling of this grip, an estimate of ${force(now.forceN)} at each hand, was reached.`,
    ...(highest > 1.05 * now.forceN
      ? [`A grip elsewhere along the bar gives up to ${force(highest)} at each hand.`]
      : []),
    'A heavier bar, or supports that hold it down, raise the ceiling. Less effort on this bar stays below it.',
    'Which of these, if any, is your decision.',
  ];
}

/** What a search found and why, in sentences; names are of the bands, in their order. */
export function searchSentences(search: BandSearch, names: readonly string[], belowShare: number): string[] {
  const [best] = search.best;
  const share = `${Math.round(belowShare * 100)} %`;
  const { reachesShare, tooLittle, slack, beyondReadings } = search.leftOut;
  const tried = `${search.tried} set-ups were tried: anchors from the floor up, bands as they are and gripped shorter. Left out: ${reachesShare} that may reach ${share} somewhere, ${slack} that go slack, ${beyondReadings} that stretch beyond the readings, ${tooLittle} that ask for less than half of ${share} everywhere.`;
  if (best === undefined) return ['No set-up fits.', tried];
  const described = search.asDescribed[best.bandIndex] ?? null;
  const { forward, outward, up } = best.band.anchorM;
  const cm = (metres: number, plus: string, minus: string): string =>
    `${Math.abs(Math.round(metres * 100))} cm ${metres < 0 ? minus : plus}`;
  return [
    `Most even: ${names[best.bandIndex] ?? 'the band'}, ${Math.round(best.band.restLengthM * 100)} cm of it between hand and anchor, anchor ${cm(forward, 'ahead of', 'behind')}, ${cm(up, 'above', 'below')} and ${cm(outward, 'outside', 'inside')} the elbow.`,
    described === null
      ? `Its demand over strength ${evennessWords(best.evenness)}. As described, that band goes slack or beyond its readings.`
      : `Its demand over strength ${evennessWords(best.evenness)}; as described it ${evennessWords(described)}.`,
    ...(best.curve.peak === null
      ? []
      : [
          `It is hardest at ${Math.round(best.curve.peak.flexionDeg)} deg and stays below ${share} even at the most that the band’s doubt allows.`,
        ]),
    tried,
    'Look whether the band’s line is clear of the body and the anchor can be fastened there.',
  ];
}
