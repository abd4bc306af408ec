/** Two levels: at or above `on` it switches on, below `off` it switches off; between them it stays as it was. */
export interface HysteresisLevels {
  readonly on: number;
  readonly off: number;
}

/**
 * The next state of a two-level switch. Throws a RangeError when `off` lies above `on`.
 * @param wasOn - the state until now
 * @param value - the new value; a value that is not a number leaves the state
 */
export function stepHysteresis(wasOn: boolean, value: number, levels: HysteresisLevels): boolean {
  if (levels.off > levels.on)
    throw new RangeError('stepHysteresis: levels.off must not lie above levels.on.');
  if (value >= levels.on) return true;
  if (value < levels.off) return false;
  return wasOn;
}
