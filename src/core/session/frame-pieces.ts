import { LANDMARK_NAMES } from '../pose/landmark.ts';
import { ColumnCutter, fromRuns, joinDifferences, joinRuns, toRuns } from './column-coding.ts';
import { assertRising, type FrameSeries, type LandmarkColumns } from './quantised-frames.ts';

/** Pieces of one recording, in order, as one series: what encoding all their frames at once would give. */
export function joinSeries(pieces: readonly FrameSeries[]): FrameSeries {
  const filled = pieces.filter(({ frameCount }) => frameCount > 0);
  const landmarks = Object.fromEntries(
    LANDMARK_NAMES.map((name) => {
      const column = (of: keyof LandmarkColumns): number[] =>
        joinDifferences(filled.map((piece) => piece.landmarks[name][of]));
      return [
        name,
        {
          xTenthPx: column('xTenthPx'),
          yTenthPx: column('yTenthPx'),
          visibilityPercent: column('visibilityPercent'),
          worldXMm: column('worldXMm'),
          worldYMm: column('worldYMm'),
          worldZMm: column('worldZMm'),
        },
      ];
    }),
  );
  const timeTenthMs = joinDifferences(filled.map((piece) => piece.timeTenthMs));
  assertRising(timeTenthMs);
  return {
    frameCount: timeTenthMs.length,
    timeTenthMs,
    pictureSizePx: joinRuns(filled.map((piece) => piece.pictureSizePx)),
    people: joinRuns(filled.map((piece) => piece.people)),
    brightness: joinRuns(filled.map((piece) => piece.brightness)),
    posed: joinRuns(filled.map((piece) => piece.posed)),
    // As in encodeFrames: every name is a key.
    landmarks: landmarks as FrameSeries['landmarks'],
  };
}

/** The pieces of a series, in order, of so many frames each at most: joining them gives the series again. */
export function* cutSeries(series: FrameSeries, framesPerPiece: number): Generator<FrameSeries> {
  const sizes = fromRuns(series.pictureSizePx);
  const people = fromRuns(series.people);
  const brightness = fromRuns(series.brightness);
  const posed = fromRuns(series.posed);
  const time = new ColumnCutter(series.timeTenthMs);
  const cutters = LANDMARK_NAMES.map((name) => {
    const columns = series.landmarks[name];
    return {
      name,
      xTenthPx: new ColumnCutter(columns.xTenthPx),
      yTenthPx: new ColumnCutter(columns.yTenthPx),
      visibilityPercent: new ColumnCutter(columns.visibilityPercent),
      worldXMm: new ColumnCutter(columns.worldXMm),
      worldYMm: new ColumnCutter(columns.worldYMm),
      worldZMm: new ColumnCutter(columns.worldZMm),
    };
  });
  for (let from = 0; from < series.frameCount; from += framesPerPiece) {
    const to = Math.min(series.frameCount, from + framesPerPiece);
    const found = posed.slice(from, to).filter(Boolean).length;
    const landmarks = Object.fromEntries(
      cutters.map((of) => [
        of.name,
        {
          xTenthPx: of.xTenthPx.cut(found),
          yTenthPx: of.yTenthPx.cut(found),
          visibilityPercent: of.visibilityPercent.cut(found),
          worldXMm: of.worldXMm.cut(found),
          worldYMm: of.worldYMm.cut(found),
          worldZMm: of.worldZMm.cut(found),
        },
      ]),
    );
    yield {
      frameCount: to - from,
      timeTenthMs: time.cut(to - from),
      pictureSizePx: toRuns(sizes.slice(from, to)),
      people: toRuns(people.slice(from, to)),
      brightness: toRuns(brightness.slice(from, to)),
      posed: toRuns(posed.slice(from, to)),
      // As in encodeFrames: every name is a key.
      landmarks: landmarks as FrameSeries['landmarks'],
    };
  }
}
