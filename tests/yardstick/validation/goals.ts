import type { Movement } from './case-settings.ts';
import type { Quantity, SetFigures } from './set-figures.ts';

/** A goal that a share of sets or repetitions has to reach. */
export interface ShareGoal {
  readonly text: string;
  readonly least: number;
  /** For each set or repetition whether it is within the bound. */
  readonly items: (sets: readonly SetFigures[]) => readonly boolean[];
  readonly share: (sets: readonly SetFigures[]) => number;
}

function shareGoal(text: string, least: number, items: ShareGoal['items']): ShareGoal {
  return {
    text,
    least,
    items,
    share: (sets) => {
      const all = items(sets);
      return all.filter(Boolean).length / all.length;
    },
  };
}

/** Of a set that is refused nothing is counted: so much of the pictures must have an elbow for it to count here, share. */
const MEASURED_SHARE = 0.9;

function wasMeasured({ readings, pictures }: SetFigures): boolean {
  return readings.elbow.length >= MEASURED_SHARE * pictures;
}

/** What the chain is held to. Our own aims: a goniometer in one hand resolves about six degrees. */
export const GOALS = {
  elbowDeg: [
    { movement: 'standing', yawBandsDeg: [0, 15], mostDeg: 2.5 },
    { movement: 'standing', yawBandsDeg: [30], mostDeg: 3 },
    { movement: 'standing', yawBandsDeg: [45], mostDeg: 4 },
    { movement: 'hold', yawBandsDeg: [0, 15, 30], mostDeg: 3 },
    { movement: 'hold', yawBandsDeg: [45], mostDeg: 4.5 },
    { movement: 'body-curl', yawBandsDeg: [0, 15], mostDeg: 3.5 },
    { movement: 'body-curl', yawBandsDeg: [30], mostDeg: 5 },
  ] as readonly { movement: Movement; yawBandsDeg: readonly number[]; mostDeg: number }[],
  mostBiasDeg: 1.5,
  coverage: [0.92, 0.98],
  halfWidthAt15Deg: { standing: 6.5, hold: 8, 'body-curl': 10 } as Readonly<Record<Movement, number>>,
  anglesTo30: [
    ['shoulder', 5],
    ['trunk', 3],
  ] as readonly (readonly [Quantity, number])[],
  /** Shoulder's share of the work between which either answer is right: the tool's own grey zone, 15 points wide. */
  greyZone: [0.425, 0.575] as const,
  rowShare: 0.95,
  repetitions: shareGoal('repetitions exact in a set that was measured', 0.98, (sets) =>
    sets
      .filter((set) => set.hold === null && wasMeasured(set))
      .map(({ counts }) => counts.full === counts.trueFull && counts.partial === counts.truePartial),
  ),
  holdTime: shareGoal('hold time within 0.3 s in a set that was measured', 0.95, (sets) =>
    sets.flatMap((set) =>
      set.hold === null || !wasMeasured(set)
        ? []
        : [Math.abs(set.hold.seconds - set.hold.trueSeconds) <= 0.3],
    ),
  ),
  lowering: shareGoal('lowering time within 0.15 s', 0.9, (sets) =>
    sets.flatMap(({ lowering }) =>
      lowering.map(({ seconds, trueSeconds }) => Math.abs(seconds - trueSeconds) <= 0.15),
    ),
  ),
  travel: shareGoal('travel of a repetition within 2 cm or 7 %', 0.95, (sets) =>
    sets.flatMap((set) =>
      set.movement === 'body-curl'
        ? set.travel.map(({ cm, trueCm }) => Math.abs(cm - trueCm) <= Math.max(2, 0.07 * trueCm))
        : [],
    ),
  ),
} as const;
