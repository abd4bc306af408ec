import type { EstimatedQuantity, LoadFigure, LoadProblem, LoadValue } from '../loads/load-figure.ts';
import { isKnown } from '../loads/load-figure.ts';
import { figureWords, valueWords, type QuantityForm } from './measure-words.ts';

/** Words of a quantity that statics estimates. */
export interface QuantityWords {
  readonly name: string;
  /** Begins with "An estimate of": every figure of statics says that it is one, and of what. */
  readonly estimateOf: string;
  readonly form: QuantityForm;
}

const NEWTON = { unit: 'N', decimals: 0 } as const;
const NEWTON_METRE = { unit: 'N m', decimals: 1 } as const;
const SHARE = { unit: '%', decimals: 0, factor: 100 } as const;

const QUANTITIES: Readonly<Record<EstimatedQuantity, QuantityWords>> = {
  'bar-ceiling': {
    name: 'Bar starts to lift',
    estimateOf:
      'An estimate of the force at each hand, straight up, at which the bar starts to lift, from its weight, its supports and the grip. A hold on it cannot ask more.',
    form: NEWTON,
  },
  'bar-tipping-force': {
    name: 'Bar tips',
    estimateOf:
      'An estimate of the force at each hand, straight down outside the supports, at which the far end of the bar rises.',
    form: NEWTON,
  },
  'bar-hold-moment': {
    name: 'Elbow moment of the hold, at most',
    estimateOf:
      'An estimate of the most that a hold on this bar can ask of the elbow flexors of one arm. What was done lies below it: nobody sees the effort.',
    form: NEWTON_METRE,
  },
  'hand-share': {
    name: 'Body weight at the hands',
    estimateOf:
      'An estimate of the share of body weight that the hands hold together, from where feet, hands and the centre of mass are. The direction of the force is assumed; the span holds three assumptions.',
    form: SHARE,
  },
  'hand-force': {
    name: 'Force at each hand',
    estimateOf: 'An estimate of the force at one hand, from the share of body weight and the body mass.',
    form: NEWTON,
  },
  'feet-friction': {
    name: 'Friction that the feet need',
    estimateOf:
      'An estimate of the sideways force at the feet over the load on them. Dry rubber on a dry floor gives about 0.5 and more.',
    form: { unit: '', decimals: 2 },
  },
  'body-curl-elbow-moment': {
    name: 'Elbow moment, one arm',
    estimateOf:
      'An estimate of what the elbow flexors of one arm hold, from the hand’s force and its lever. Below zero the force bends the elbow, and the extensors hold it.',
    form: NEWTON_METRE,
  },
  'body-curl-shoulder-moment': {
    name: 'Shoulder moment, one arm',
    estimateOf:
      'An estimate of what the shoulder extensors of one arm hold, from the hand’s force and its lever. Below zero the flexors of the shoulder hold.',
    form: NEWTON_METRE,
  },
  'band-tension': {
    name: 'Pull of the band',
    estimateOf: 'An estimate of the band’s pull, from a curve through your own scale readings.',
    form: NEWTON,
  },
  'band-flexion-moment': {
    name: 'Elbow moment of the band',
    estimateOf:
      'An estimate of what the elbow flexors hold, from the band’s pull and its line past the elbow, upper arm hanging. With the weight of forearm and hand where it is said.',
    form: NEWTON_METRE,
  },
  'band-pronating-moment': {
    name: 'Turning moment of the band',
    estimateOf:
      'An estimate of how the band turns the forearm. Above zero it drags into pronation and the supinators hold; below zero it turns into supination.',
    form: { unit: 'N m', decimals: 2 },
  },
  'weight-flexion-moment': {
    name: 'Elbow moment of the weight',
    estimateOf:
      'An estimate of what the elbow flexors hold against the weight and the forearm, standing still with the upper arm hanging. Fast movement asks for more.',
    form: NEWTON_METRE,
  },
  'forearm-weight-moment': {
    name: 'Elbow moment of the forearm',
    estimateOf: 'An estimate of what forearm and hand ask of the elbow flexors by their own weight.',
    form: NEWTON_METRE,
  },
  'demand-over-capacity': {
    name: 'Demand over strength',
    estimateOf:
      'An estimate of the elbow moment over the strength of a healthy population at the same angle. Its span runs from the mean of men to the mean of women.',
    form: SHARE,
  },
  'biceps-moment': {
    name: 'Part of the biceps',
    estimateOf:
      'An estimate of the biceps’ part of the elbow moment, shared as the flexors’ strengths are. The muscles may share it otherwise.',
    form: NEWTON_METRE,
  },
  'biceps-tendon-force': {
    name: 'Force in the biceps tendon',
    estimateOf:
      'A rough estimate of the force in the biceps tendon from its part of the moment and published lever arms. It may be wrong by more than a factor of two. Turning the forearm adds to it.',
    form: NEWTON,
  },
  'weight-below-share': {
    name: 'Heaviest weight below the chosen share',
    estimateOf:
      'An estimate of the weight that stays below the chosen share of a healthy population’s strength at its weakest angle.',
    form: { unit: 'kg', decimals: 1 },
  },
  'time-under-tension': {
    name: 'Time under tension',
    estimateOf: 'An estimate of the time in which the elbow worked: holds and repetitions as measured.',
    form: { unit: 's', decimals: 0 },
  },
  'elbow-impulse': {
    name: 'Elbow moment times time',
    estimateOf:
      'An estimate of the dose to the elbow flexors: their moment, worked out, times the measured time. It is never a force in the tendon. Of a hold it is the most that it can have been.',
    form: { unit: 'N m s', decimals: 0 },
  },
};

/** Name, form and the sentence that says of what a figure is an estimate. */
export function quantityWords(of: EstimatedQuantity): QuantityWords {
  return QUANTITIES[of];
}

const PROBLEMS: Readonly<Record<LoadProblem, string>> = {
  'no-body-mass': 'The body mass is not given. Enter it in the plan to see forces and moments.',
  'no-ceiling':
    'The bar is held down where it would rise. It sets no limit to the force; the therapist does.',
  'bar-does-not-rest':
    'The bar does not rest on these supports. Its middle has to lie between them, or they have to hold it down.',
  'not-held-by-this-force':
    'No force at the hands holds the body there. Put the feet further forward or the bar higher.',
  'out-of-reach':
    'Feet, body and arms do not meet there. Check the height of the bar and the distance of the feet.',
  'outside-capacity-table':
    'The strength of the flexors is published from 0 to 130 deg. Beyond it, no share is given.',
  'readings-too-close':
    'The readings do not tell how the pull grows. Read the scale at two lengths or more, well apart, each longer than the loose band.',
  'readings-do-not-rise': 'The longer reading does not pull harder. Read the scale again.',
  'stretched-beyond-readings':
    'The band would be stretched further than it was ever read. Take a reading at that length, or set it up with less stretch. No force is given from a guess.',
  'not-a-load-of-this-exercise':
    'Nothing is worked out for this exercise. Only its dose and the answers count.',
};

/** Why a figure is not given and what to do. */
export function loadProblemWords(problem: LoadProblem): string {
  return PROBLEMS[problem];
}

/** A figure with its span: "98 N (91 to 105)"; or the reason in a sentence. */
export function loadWords(value: LoadValue): string {
  if (!isKnown(value)) return loadProblemWords(value.notKnown);
  return `${loadValueWords(value)} ${loadSpanWords(value)}`.trim();
}

/** A figure without its span: "98 N". */
export function loadValueWords({ value, of }: LoadFigure): string {
  return valueWords(value, quantityWords(of).form);
}

/** The span beside a figure: "(91 to 105)"; empty where there is none to show. */
export function loadSpanWords({ least, most, of }: LoadFigure): string {
  const { form } = quantityWords(of);
  const [low, high] = [figureWords(least, form), figureWords(most, form)];
  return low === high ? '' : `(${low} to ${high})`;
}
