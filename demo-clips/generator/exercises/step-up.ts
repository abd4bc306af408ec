import { SIDES, type Side } from '../body.ts';
import { minimumJerk } from '../motion-script.ts';
import { bySide } from '../skeleton.ts';
import { add, type Vec3 } from '../vector.ts';

/** Far enough that a bending forearm clears the bar; common experience, no source. */
const STEP_M = 0.17;
const LIFT_M = 0.05;
/** The hip sinks while the legs are apart, so that both reach the floor. */
const SINK_M = 0.025;

/** Where hips and feet are while a person steps up to the bar. */
interface Stance {
  readonly hipBehindM: number;
  readonly hipLowerM: number;
  readonly ankles: Readonly<Record<Side, Vec3>>;
}

/** One step forward to where the feet finally stand, one foot after the other, as a function of time in seconds. */
export function createStepUp(
  ankles: Readonly<Record<Side, Vec3>>,
  fromS: number,
  toS: number,
): (timeS: number) => Stance {
  const halfS = (toS - fromS) / SIDES.length;
  const done = (timeS: number, side: Side): number =>
    Math.min(1, Math.max(0, (timeS - fromS) / halfS - SIDES.indexOf(side)));
  return (timeS) => {
    const all = minimumJerk((timeS - fromS) / (toS - fromS));
    return {
      hipBehindM: STEP_M * (1 - all),
      hipLowerM: SINK_M * Math.sin(Math.PI * all),
      ankles: bySide((side): Vec3 => {
        const share = done(timeS, side);
        const behindM = STEP_M * (1 - minimumJerk(share));
        return add(ankles[side], [-behindM, LIFT_M * Math.sin(Math.PI * minimumJerk(share)), 0]);
      }),
    };
  };
}
