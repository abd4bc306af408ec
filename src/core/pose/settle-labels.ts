import { runningShare } from '../signal/running-mean.ts';
import { GATE_LIMITS as LIMITS } from './gate-limits.ts';
import { NO_EXCHANGE, settleSides, type Exchange } from './side-exchange.ts';
import { exchangeSides, SIDED_LANDMARKS, type SidedPose } from './sided-pose.ts';
import { nearSideEvidence } from './viewpoint.ts';

/** What is remembered of the labels left and right. */
export interface LabelState {
  readonly exchange: Exchange;
  /** Since when labels have been put right without a break, or null. */
  readonly exchangedSinceSeconds: number | null;
  /** Share of late in which head and feet contradicted depth and visibility, 0 to 1. */
  readonly doubt: number;
}

/** Labels as the network gives them, not doubted. */
export const FRESH_LABELS: LabelState = { exchange: NO_EXCHANGE, exchangedSinceSeconds: null, doubt: 0 };

/** A picture with its labels put right as far as they can be. */
export interface SettledLabels {
  readonly pose: SidedPose;
  readonly state: LabelState;
  readonly exchanged: boolean;
  /** True when it is not known which arm is which. */
  readonly undecided: boolean;
  /** True when the whole body's labels were turned in this picture against continuity. */
  readonly turned: boolean;
}

/**
 * Puts labels right, first by continuity, then by where head and feet point: these do not depend on which side is
 * called left, depth and visibility do, and a lasting contradiction means that the labels are exchanged.
 * @param before - the last picture's settled pose, or null when it is too long ago to compare with
 */
export function settleLabels(
  state: LabelState,
  raw: SidedPose,
  before: SidedPose | null,
  timeSeconds: number,
  stepSeconds: number,
): SettledLabels {
  const settled = settleSides(raw, before, state.exchange, stepSeconds);
  const { facing, labels } = nearSideEvidence(settled.pose);
  const isClear = facing !== null && labels !== null && Math.min(Math.abs(facing), Math.abs(labels)) > 0.5;
  const against = isClear && facing * labels < 0 ? 1 : 0;
  const doubtBefore = before === null ? 0 : state.doubt;
  const weight = before === null ? 0 : runningShare(stepSeconds, LIMITS.labelMeanSeconds);
  const doubt = doubtBefore + weight * (against - doubtBefore);
  const turned = doubt >= LIMITS.labelTurnedShare;
  const exchange = turned ? { ...settled.exchange, body: !settled.exchange.body } : settled.exchange;
  const exchanged = exchange.body || exchange.arm || exchange.hand;
  return {
    pose: turned ? exchangeSides(settled.pose, SIDED_LANDMARKS) : settled.pose,
    state: {
      exchange,
      exchangedSinceSeconds: exchanged ? (state.exchangedSinceSeconds ?? timeSeconds) : null,
      doubt: turned ? 0 : doubt,
    },
    exchanged,
    undecided: settled.undecided || (!turned && doubt >= LIMITS.labelDoubtShare),
    turned,
  };
}
