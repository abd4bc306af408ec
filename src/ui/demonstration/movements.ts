import type { Exercise, Variant } from '../../core/exercises/exercise.ts';
import { toRadians } from '../../core/math/angle.ts';
import { hangingCurl, hangingRow, standing, type SideFigure, type SidePoint } from './side-figure.ts';

/** What is drawn of one moment, statures. */
export interface Scene {
  readonly figure: SideFigure;
  /** The end of a bar, and where its support is. */
  readonly bar: { readonly at: SidePoint; readonly support: SidePoint } | null;
  /** Where a band is anchored. */
  readonly bandFrom: SidePoint | null;
  readonly hasWeight: boolean;
  /** How hard the hand presses up, as a share of what is asked. */
  readonly pushShare: number;
  /** Where the palm faces, as a direction of length 1; null where it is not the point. */
  readonly palm: SidePoint | null;
}

/** One way of doing an exercise. */
export interface Movement {
  /** In so few letters (7) that they are read from three metres. */
  readonly label: string;
  /** What is right or wrong about it, in a sentence. */
  readonly sentence: string;
  /** Seconds of bending, staying bent and lowering; the rest of a loop is rest. */
  readonly tempo: Tempo;
  /** share: 0 at the straight end, 1 at the bent end; for a hold the share of the force. */
  readonly sceneAt: (share: number) => Scene;
}

interface Tempo {
  readonly bendSeconds: number;
  readonly topSeconds: number;
  readonly lowerSeconds: number;
}

/** How an exercise is done, beside each of its usual faults in turn. */
export interface Demonstration {
  readonly pairs: readonly { readonly right: Movement; readonly fault: Movement }[];
}

/** Length of one loop, seconds: the slowest tempo and a moment of rest. */
export const LOOP_SECONDS = 7;

const SLOW: Tempo = { bendSeconds: 2, topSeconds: 0.6, lowerSeconds: 3 };
const HELD: Tempo = { bendSeconds: 2, topSeconds: 2.5, lowerSeconds: 1.5 };
const DROPPED: Tempo = { bendSeconds: 2, topSeconds: 0.6, lowerSeconds: 0.5 };
const FLUNG: Tempo = { bendSeconds: 0.9, topSeconds: 0.4, lowerSeconds: 1.2 };

/** Share of the movement at a time of the loop, smooth at both ends (minimum jerk: Flash and Hogan 1985). */
export function shareAt({ bendSeconds, topSeconds, lowerSeconds }: Tempo, seconds: number): number {
  const lowering = bendSeconds + topSeconds;
  if (seconds < bendSeconds) return smooth(seconds / bendSeconds);
  if (seconds < lowering) return 1;
  return 1 - smooth(Math.min(1, (seconds - lowering) / lowerSeconds));
}

function smooth(share: number): number {
  return share ** 3 * (10 - 15 * share + 6 * share ** 2);
}

const STANDING = { elbowFlexionDeg: 90, shoulderFlexionDeg: 0, trunkLeanDeg: 0 } as const;
const PLAIN = { bar: null, bandFrom: null, hasWeight: false, pushShare: 0, palm: null } as const;

/** The bars at which strict curl and row suit a body of usual proportions; as in the project's demo clips. */
const CURL_BAR = barAt(0.84);
const ROW_BAR = barAt(0.6);

function barAt(reach: number): SidePoint {
  const behind = toRadians(13);
  return { x: -reach * Math.sin(behind), y: 0.04 + reach * Math.cos(behind) };
}

/** An anchor low and ahead, as for a curl. */
const ANCHOR: SidePoint = { x: 0.34, y: 0.02 };

const HOLD: Demonstration = {
  pairs: [
    {
      right: {
        label: 'Stays',
        sentence: 'The hand presses up and does not move. The force grows slowly and is let go slowly.',
        tempo: HELD,
        sceneAt: (share) => {
          const figure = standing(STANDING);
          return { ...PLAIN, figure, bar: { at: figure.grip, support: figure.grip }, pushShare: share };
        },
      },
      fault: {
        label: 'Lifts',
        sentence: 'The hand rises and the bar lifts out of its support: that is too much force.',
        tempo: HELD,
        sceneAt: (share) => {
          const figure = standing({ ...STANDING, elbowFlexionDeg: 90 + 24 * Math.max(0, share - 0.3) });
          const support = standing(STANDING).grip;
          return { ...PLAIN, figure, bar: { at: figure.grip, support }, pushShare: share };
        },
      },
    },
  ],
};

const BODY_CURL: Demonstration = {
  pairs: [
    {
      right: {
        label: 'Curl',
        sentence: 'The elbows bend and stay in front. The body comes to the hands.',
        tempo: SLOW,
        sceneAt: (share) => ({
          ...PLAIN,
          figure: hangingCurl(CURL_BAR, 15 + 95 * share, 80 - 3 * share, 0.985 - 0.18 * share),
          bar: { at: CURL_BAR, support: CURL_BAR },
        }),
      },
      fault: {
        label: 'Row',
        sentence: 'The elbows go behind the body: the shoulder does the work.',
        tempo: SLOW,
        sceneAt: (share) => ({
          ...PLAIN,
          figure: hangingRow(ROW_BAR, 15 + 100 * share),
          bar: { at: ROW_BAR, support: ROW_BAR },
        }),
      },
    },
  ],
};

/** palmDownShare: 0 for a palm that faces up, 1 for one that faces down. */
function bandScene(share: number, palmDownShare: number): Scene {
  const elbowFlexionDeg = 20 + 105 * share;
  const up = { x: Math.cos(toRadians(elbowFlexionDeg)), y: Math.sin(toRadians(elbowFlexionDeg)) };
  const way = 1 - 2 * palmDownShare;
  return {
    ...PLAIN,
    figure: standing({ ...STANDING, elbowFlexionDeg }),
    bandFrom: ANCHOR,
    palm: { x: way * up.x, y: way * up.y },
  };
}

/** A band that is just tight on a loose arm: the palm faces down and back. */
export function lightTensionScene(): Scene {
  return bandScene(0, 1);
}

function bandCurl(variant: Variant | null): Demonstration {
  // The palm turns over as a flip for the eye: seen from the side there is only up or down.
  const palmDown = (share: number): number => (variant === 'turning' && share < 0.5 ? 1 : 0);
  const right: Movement = {
    label: variant === 'turning' ? 'Turns' : 'Palm up',
    sentence:
      variant === 'turning'
        ? 'The palm turns up while the elbow bends, and back while it is lowered.'
        : 'The palm faces up all the way. The band would turn it over.',
    tempo: SLOW,
    sceneAt: (share) => bandScene(share, palmDown(share)),
  };
  return {
    pairs: [
      {
        right,
        fault: {
          label: 'Down',
          sentence: 'The band has turned the palm down.',
          tempo: SLOW,
          sceneAt: (share) => bandScene(share, 1),
        },
      },
      {
        right: { ...right, label: 'Slow', sentence: 'The arm is lowered slowly, all the way.' },
        fault: {
          label: 'Drops',
          sentence: 'The band pulls the arm down: that is too fast.',
          tempo: DROPPED,
          sceneAt: (share) => bandScene(share, palmDown(share)),
        },
      },
    ],
  };
}

const FREE_CURL: Demonstration = {
  pairs: [
    {
      right: {
        label: 'Still',
        sentence: 'Only the elbow bends. The upper arm stays by the side.',
        tempo: SLOW,
        sceneAt: (share) => ({
          ...PLAIN,
          figure: standing({ ...STANDING, elbowFlexionDeg: 10 + 120 * share }),
          hasWeight: true,
        }),
      },
      fault: {
        label: 'Swing',
        sentence: 'The body leans back and the arm swings: that is not the elbow’s work.',
        tempo: FLUNG,
        sceneAt: (share) => ({
          ...PLAIN,
          figure: standing({
            elbowFlexionDeg: 10 + 120 * share,
            shoulderFlexionDeg: 38 * share,
            trunkLeanDeg: 6 - 20 * share,
          }),
          hasWeight: true,
        }),
      },
    },
  ],
};

/** How an exercise is done, beside its usual faults. */
export function demonstrationOf(exercise: Exercise, variant: Variant | null): Demonstration {
  switch (exercise) {
    case 'hold':
      return HOLD;
    case 'body-curl':
      return BODY_CURL;
    case 'band-curl':
      return bandCurl(variant);
    case 'free-curl':
      return FREE_CURL;
  }
}
