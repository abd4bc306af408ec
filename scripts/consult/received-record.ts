import { isMeasured } from '../../src/core/kinematics/measured.ts';
import { sessionRecordSchema } from '../../src/core/session/session-record.ts';

/** The elbow of a frame, as the clip's truth says it. */
interface TrueFrame {
  readonly timeSeconds: number;
  readonly elbowFlexionDeg: number;
}

/**
 * What the record of a received hold says, against the clip's truth: the mean angle of the longest hold must lie within its own interval of the
 * true one. Times are told beside it and not judged: the camera of a busy machine plays its file slower than it was filmed.
 */
export function receivedRecord(
  file: string,
  frames: readonly TrueFrame[],
  holdsInRangeSeconds: readonly (readonly [number, number])[],
): {
  readonly source: string;
  readonly words: string;
  readonly isRight: boolean;
  /** Pictures measured a second over the set. */
  readonly rateHz: number;
} {
  const { source, sets } = sessionRecordSchema.parse(JSON.parse(file));
  const [set] = sets;
  const longest = set?.judgement.holds.toSorted((a, b) => b.inRangeSeconds - a.inRangeSeconds)[0];
  const trueLongest = holdsInRangeSeconds.toSorted((a, b) => b[1] - b[0] - (a[1] - a[0]))[0];
  if (set === undefined || longest === undefined || trueLongest === undefined)
    return { source: source.label, words: 'no hold', isRight: false, rateHz: 0 };
  const [from, to] = trueLongest;
  const held = frames.filter(({ timeSeconds }) => timeSeconds >= from && timeSeconds <= to);
  const trueMeanDeg = held.reduce((sum, { elbowFlexionDeg }) => sum + elbowFlexionDeg, 0) / held.length;
  const { meanFlexionDeg: mean } = longest;
  const { totalSeconds, share } = set.measuredTime;
  const rateHz = set.frames.frameCount / totalSeconds;
  const angle = isMeasured(mean)
    ? `${mean.value.toFixed(1)} deg (${mean.low.toFixed(1)} to ${mean.high.toFixed(1)})`
    : 'not measured';
  return {
    source: source.label,
    words: `${angle}, in truth ${trueMeanDeg.toFixed(1)}; held ${longest.inRangeSeconds.toFixed(1)} s, in the film ${(to - from).toFixed(1)}; ${source.widthPx} x ${source.heightPx} pixels, ${rateHz.toFixed(1)} measured a second, elbow measured in ${((share ?? 0) * 100).toFixed(0)} % of ${totalSeconds.toFixed(1)} s`,
    rateHz,
    isRight: isMeasured(mean) && mean.low <= trueMeanDeg && trueMeanDeg <= mean.high,
  };
}
