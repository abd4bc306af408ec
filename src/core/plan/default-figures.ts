import type { HoldDose, RepetitionDose } from './dose.ts';
import type { PainRules } from './pain-rules.ts';
import type { ProgressRules } from './progress-rules.ts';

/** A figure of the plan that stands ready, and where it comes from. */
interface Figure {
  readonly value: number;
  readonly source: string;
}

const PRACTICE = 'common practice, no source';
const SLOW_RESISTANCE =
  'heavy slow resistance for the patellar tendon: Kongsgaard et al. 2009, Scand J Med Sci Sports 19:790-802 (times from memory); not tried on this tendon';
const MONITORING =
  'pain monitoring for leg tendons: Thomeé 1997, Phys Ther 77:1690-1703 (from memory), Silbernagel et al. 2007, Am J Sports Med 35:897-906; not tried on this tendon';

const figure = (value: number, source: string): Figure => ({ value, source });

/** Every figure of the plan that stands ready, with its source. The therapist changes what does not fit. */
export const DEFAULT_FIGURES = {
  hold: {
    sets: figure(5, PRACTICE),
    easierSetsBefore: figure(2, PRACTICE),
    holdSeconds: figure(30, PRACTICE),
    restSeconds: figure(90, PRACTICE),
    daysAWeek: figure(3, PRACTICE),
  },
  holdAsPreparation: {
    sets: figure(3, PRACTICE),
    easierSetsBefore: figure(1, PRACTICE),
    holdSeconds: figure(30, PRACTICE),
    restSeconds: figure(90, PRACTICE),
    daysAWeek: figure(3, PRACTICE),
  },
  bodyCurl: {
    sets: figure(3, PRACTICE),
    repetitions: figure(8, PRACTICE),
    bendingSeconds: figure(3, SLOW_RESISTANCE),
    loweringSeconds: figure(3, SLOW_RESISTANCE),
    restSeconds: figure(120, SLOW_RESISTANCE),
    daysAWeek: figure(3, SLOW_RESISTANCE),
  },
  bandCurl: {
    sets: figure(3, PRACTICE),
    repetitions: figure(12, PRACTICE),
    bendingSeconds: figure(3, SLOW_RESISTANCE),
    loweringSeconds: figure(3, SLOW_RESISTANCE),
    restSeconds: figure(120, SLOW_RESISTANCE),
    daysAWeek: figure(3, SLOW_RESISTANCE),
  },
  freeCurl: {
    sets: figure(4, SLOW_RESISTANCE),
    repetitions: figure(10, SLOW_RESISTANCE),
    bendingSeconds: figure(3, SLOW_RESISTANCE),
    loweringSeconds: figure(3, SLOW_RESISTANCE),
    restSeconds: figure(150, SLOW_RESISTANCE),
    daysAWeek: figure(3, SLOW_RESISTANCE),
  },
  row: {
    sets: figure(3, PRACTICE),
    repetitions: figure(10, PRACTICE),
    bendingSeconds: figure(2, PRACTICE),
    loweringSeconds: figure(3, PRACTICE),
    restSeconds: figure(120, PRACTICE),
    daysAWeek: figure(2, PRACTICE),
  },
  chinUp: {
    sets: figure(3, PRACTICE),
    repetitions: figure(4, PRACTICE),
    bendingSeconds: figure(2, PRACTICE),
    loweringSeconds: figure(3, PRACTICE),
    restSeconds: figure(150, PRACTICE),
    daysAWeek: figure(2, PRACTICE),
  },
  pulling: {
    sets: figure(3, PRACTICE),
    repetitions: figure(8, PRACTICE),
    bendingSeconds: figure(2, PRACTICE),
    loweringSeconds: figure(2, PRACTICE),
    restSeconds: figure(120, PRACTICE),
    daysAWeek: figure(2, PRACTICE),
  },
  pain: {
    riseAllowed: figure(0, 'no rise above the rating before the session, the most cautious ceiling there is'),
    mostAllowed: figure(5, MONITORING),
    nextMorningRiseAllowed: figure(0, MONITORING),
  },
  progress: {
    goodDaysToAdvance: figure(6, PRACTICE),
    doseShareToCount: figure(0.8, PRACTICE),
    shoulderDominantShareAllowed: figure(0.2, PRACTICE),
    badDaysToStepBack: figure(2, PRACTICE),
    daysOffBeforeStepBack: figure(10, PRACTICE),
  },
} as const;

type HoldRow = typeof DEFAULT_FIGURES.hold | typeof DEFAULT_FIGURES.holdAsPreparation;
type RepetitionRow = (typeof DEFAULT_FIGURES)[
  'bodyCurl' | 'bandCurl' | 'freeCurl' | 'row' | 'chinUp' | 'pulling'];

/** A dose of holds by a row of the table. */
export function holdDose(row: HoldRow): HoldDose {
  return {
    kind: 'hold',
    sets: row.sets.value,
    holdSeconds: row.holdSeconds.value,
    easierSetsBefore: row.easierSetsBefore.value,
    restSeconds: row.restSeconds.value,
    daysAWeek: row.daysAWeek.value,
  };
}

/** A dose of repetitions by a row of the table. */
export function repetitionDose(row: RepetitionRow): RepetitionDose {
  return {
    kind: 'repetitions',
    sets: row.sets.value,
    repetitions: row.repetitions.value,
    bendingSeconds: row.bendingSeconds.value,
    loweringSeconds: row.loweringSeconds.value,
    restSeconds: row.restSeconds.value,
    daysAWeek: row.daysAWeek.value,
  };
}

/** The pain rules that stand ready. */
export function defaultPainRules(): PainRules {
  const { riseAllowed, mostAllowed, nextMorningRiseAllowed } = DEFAULT_FIGURES.pain;
  return {
    riseAllowed: riseAllowed.value,
    mostAllowed: mostAllowed.value,
    nextMorningRiseAllowed: nextMorningRiseAllowed.value,
    offers: ['end-set', 'shorten', 'step-down'],
  };
}

/** The rules of progress that stand ready. */
export function defaultProgressRules(): ProgressRules {
  const { progress } = DEFAULT_FIGURES;
  return {
    goodDaysToAdvance: progress.goodDaysToAdvance.value,
    doseShareToCount: progress.doseShareToCount.value,
    shoulderDominantShareAllowed: progress.shoulderDominantShareAllowed.value,
    badDaysToStepBack: progress.badDaysToStepBack.value,
    daysOffBeforeStepBack: progress.daysOffBeforeStepBack.value,
  };
}
