/**
 * Windows and how large they are, for visual angles. Width of the window's picture in millimetres: a 13-inch screen of 16 to 10
 * with 1280 by 800 pixels, of which a browser's bars take 80; a phone of 390 CSS pixels at 153 of them an inch (460 dots an inch
 * at 3 dots a pixel; a usual phone, from memory); a 24-inch screen of 16 to 9.
 */
export const SCREENS = {
  laptop: { width: 1280, height: 720, widthMm: 13 * 25.4 * (16 / Math.hypot(16, 10)) },
  'phone upright': { width: 390, height: 844, widthMm: (390 / 153) * 25.4 },
  'phone lying': { width: 844, height: 390, widthMm: (844 / 153) * 25.4 },
  wide: { width: 1920, height: 1000, widthMm: 24 * 25.4 * (16 / Math.hypot(16, 9)) },
} as const;
export type ShownScreen = keyof typeof SCREENS;

/** Distance at which the goals are set, millimetres. */
const DISTANCE_MM = 3000;
/**
 * Arc minutes, the project's own goals: figures and states, cues, and labels beside a drawing, which are read from the same place
 * as cues. Letters are legible from 16 on (ISO 9241-303, from memory).
 */
const GOALS = { figure: 40, cue: 22, label: 22 } as const;
/** Contrast: main figures 7 to 1, everything else that is read here 4.5 to 1 (WCAG 2.2, 1.4.6 and 1.4.3). */
const CONTRAST_GOALS = { figure: 7, cue: 4.5, label: 4.5 } as const;

/** One piece of text as the browser draws it. */
export interface Reading {
  readonly screen: ShownScreen;
  readonly theme: 'light' | 'dark';
  readonly state: string;
  readonly kind: keyof typeof GOALS;
  readonly words: string;
  /** Height of the digit 0 or the letter H, CSS pixels. */
  readonly heightPx: number;
  readonly contrast: number;
}

/** Visual angle of a height on a screen, arc minutes. */
export function arcMinutes(heightPx: number, screen: ShownScreen, distanceMm: number = DISTANCE_MM): number {
  const { width, widthMm } = SCREENS[screen];
  const heightMm = (heightPx * widthMm) / width;
  return (2 * Math.atan(heightMm / (2 * distanceMm)) * 180 * 60) / Math.PI;
}

/** How far away a height still has so many arc minutes, metres. */
export function furthestM(heightPx: number, screen: ShownScreen, minutes: number): number {
  const { width, widthMm } = SCREENS[screen];
  const heightMm = (heightPx * widthMm) / width;
  return heightMm / (2 * Math.tan((minutes * Math.PI) / (2 * 180 * 60))) / 1000;
}

/** The readings as a table. Sizes are goals on the laptop at three metres; of a phone the distance is told at which they hold. */
export function tableOf(readings: readonly Reading[]): { readonly text: string; readonly isMissed: boolean } {
  let isMissed = false;
  const lines = readings.map((reading) => {
    const { screen, theme, state, kind, words, heightPx, contrast } = reading;
    const minutes = arcMinutes(heightPx, screen);
    const isSmall = screen === 'laptop' && minutes < GOALS[kind];
    const isFaint = contrast < CONTRAST_GOALS[kind];
    isMissed ||= isSmall || isFaint;
    return [
      screen,
      theme,
      state,
      kind,
      words.slice(0, 18),
      `${minutes.toFixed(0)}'`,
      `${furthestM(heightPx, screen, GOALS[kind]).toFixed(1)} m`,
      `${contrast.toFixed(1)}:1`,
      isSmall ? 'TOO SMALL' : isFaint ? 'TOO FAINT' : '',
    ];
  });
  const head = ['screen', 'theme', 'state', 'kind', 'words', 'at 3 m', 'goal up to', 'contrast', ''];
  const rows = [head, ...lines];
  const widths = head.map((_, column) => Math.max(...rows.map((row) => row[column]?.length ?? 0)));
  const text = rows
    .map((row) =>
      row
        .map((cell, column) => cell.padEnd(widths[column] ?? 0))
        .join('  ')
        .trimEnd(),
    )
    .join('\n');
  const goals = `Goals on the laptop at 3 m: figures and states ${GOALS.figure}', cues ${GOALS.cue}', labels ${GOALS.label}'; contrast ${CONTRAST_GOALS.figure}:1 and ${CONTRAST_GOALS.cue}:1.`;
  return { text: `${text}\n${goals} ${isMissed ? 'MISSED.' : 'All met.'}`, isMissed };
}
