import {
  DEFAULT_FIGURES,
  defaultPainRules,
  defaultProgressRules,
  holdDose,
  repetitionDose,
} from './default-figures.ts';
import {
  PLAN_FORMAT,
  PLAN_SCHEMA_VERSION,
  type Plan,
  type PlannedExercise,
  type PlanPerson,
  type Stage,
} from './plan.ts';

const FIGURES = DEFAULT_FIGURES;

/** How a hold is done: common practice, no source. */
const HOLD_NOTE =
  'Build the force up over 3 to 5 seconds, keep breathing, and let go slowly. Pull as hard as adds no pain; the easier holds come first.';
const HOLD_BEFORE_NOTE = 'Before the rest, to prepare. Build up over 3 to 5 seconds, breathe, let go slowly.';

/**
 * A plan that stands ready to be changed: from the hold at a right angle over the body-moving curl, the band and free
 * weights back to rows, chin-ups and pulling. Nothing has been asked of the person yet, so that no hold may start.
 * @param moment - when it is written, with offset
 * @param id - a new UUID
 */
export function defaultPlan(person: PlanPerson, moment: string, id: string): Plan {
  return {
    format: PLAN_FORMAT,
    schemaVersion: PLAN_SCHEMA_VERSION,
    id,
    version: 1,
    writtenAt: moment,
    reason: 'First version.',
    person,
    screening: null,
    highEffort: null,
    painRules: defaultPainRules(),
    progressRules: defaultProgressRules(),
    stages: defaultStages(),
    stageKey: 'hold',
    therapistKey: null,
  };
}

/** The stages of the plan that stands ready. No trial gives stages for this tendon: they are the therapist's to change. */
function defaultStages(): Stage[] {
  return [
    {
      key: 'hold',
      name: 'Hold at a right angle',
      exercises: [
        {
          key: 'hold',
          exercise: 'hold',
          dose: holdDose(FIGURES.hold),
          note: HOLD_NOTE,
          thresholds: {},
          equipment: null,
        },
      ],
    },
    {
      key: 'body-curl',
      name: 'Body-moving curl',
      exercises: [
        holdBefore('body-curl'),
        {
          key: 'body-curl',
          exercise: 'body-curl',
          dose: repetitionDose(FIGURES.bodyCurl),
          note: 'The hands stay, the body comes to them. Lower slowly.',
          thresholds: {},
          range: null,
          equipment: null,
        },
      ],
    },
    {
      key: 'band-curl',
      name: 'Band curl, palm up',
      exercises: [holdBefore('band-curl'), bandCurl('supinated')],
    },
    {
      key: 'band-turning',
      name: 'Band curl, turning up',
      exercises: [holdBefore('band-turning'), bandCurl('turning')],
    },
    {
      key: 'free-curl',
      name: 'Free weights',
      exercises: [
        holdBefore('free-curl'),
        {
          key: 'free-curl',
          exercise: 'free-curl',
          dose: repetitionDose(FIGURES.freeCurl),
          note: null,
          thresholds: {},
          range: null,
          equipment: null,
        },
      ],
    },
    {
      key: 'rows',
      name: 'Rows',
      exercises: [
        holdBefore('rows'),
        { key: 'row', exercise: 'row', dose: repetitionDose(FIGURES.row), note: null },
      ],
    },
    {
      key: 'chin-ups',
      name: 'Chin-ups and pulling',
      exercises: [
        { key: 'chin-up', exercise: 'chin-up', dose: repetitionDose(FIGURES.chinUp), note: null },
        { key: 'pulling', exercise: 'pulling', dose: repetitionDose(FIGURES.pulling), note: null },
      ],
    },
  ];
}

function holdBefore(stageKey: string): PlannedExercise {
  return {
    key: `hold-before-${stageKey}`,
    exercise: 'hold',
    dose: holdDose(FIGURES.holdAsPreparation),
    note: HOLD_BEFORE_NOTE,
    thresholds: {},
    equipment: null,
  };
}

function bandCurl(variant: 'supinated' | 'turning'): PlannedExercise {
  const note =
    variant === 'supinated'
      ? 'Keep the palm up while the band pulls it over. Lower slowly.'
      : 'Turn the palm up while you bend, and back while you lower. Lower slowly.';
  return {
    key: `band-curl-${variant}`,
    exercise: 'band-curl',
    variant,
    dose: repetitionDose(FIGURES.bandCurl),
    note,
    thresholds: {},
    range: null,
    equipment: null,
  };
}
